using System.Net;
using System.Text;

namespace Leadwright.App.Tests.Hosting;

/// <summary>Requests that are none are the sender's mistake, and are told as one.</summary>
public sealed class BadRequestTests(ServedFolder served) : IClassFixture<ServedFolder>
{
    [Theory]
    [InlineData("POST", "_framework/x")]
    [InlineData("DELETE", "_framework/blazor.webassembly.js")]
    [InlineData("GET", "_framework/x")]
    [InlineData("PUT", "api/surveys")]
    public async Task A_method_or_file_that_is_not_there_is_no_failure_of_the_host(string method, string path)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        using var answer = await served.Http.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.InRange((int)answer.StatusCode, 400, 499);
    }

    [Theory]
    [InlineData("", "text/plain")]
    [InlineData("{", "application/json")]
    [InlineData("[1,2]", "application/json")]
    [InlineData("{\"name\":7}", "application/json")]
    [InlineData("null", "application/json")]
    public async Task A_document_that_is_none_is_refused(string body, string type)
    {
        foreach (var path in (string[])["api/surveys", "api/surveys/none/corrections"])
        {
            using var content = new StringContent(body, Encoding.UTF8, type);
            using var answer = await served.Http.PostAsync(path, content, TestContext.Current.CancellationToken);
            Assert.InRange((int)answer.StatusCode, 400, 499);
            Assert.NotEqual(HttpStatusCode.Unauthorized, answer.StatusCode);
        }
    }
}
