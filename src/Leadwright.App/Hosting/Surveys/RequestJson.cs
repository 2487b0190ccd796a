using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace Leadwright.App.Hosting.Surveys;

/// <summary>Documents that come with a request.</summary>
internal static class RequestJson
{
    /// <summary>Reads one. What is no JSON of its form is the sender's mistake, and told as one.</summary>
    /// <param name="request">The request.</param>
    /// <param name="type">Its form.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="BadHttpRequestException">It is none.</exception>
    public static async Task<T?> ReadAsync<T>(HttpRequest request, JsonTypeInfo<T> type, CancellationToken cancellation)
    {
        if (!request.HasJsonContentType()) throw new BadHttpRequestException("A document in JSON was expected: send it as application/json.", StatusCodes.Status415UnsupportedMediaType);
        try
        {
            return await request.ReadFromJsonAsync(type, cancellation);
        }
        catch (JsonException failure)
        {
            throw new BadHttpRequestException($"The document can't be read: {failure.Message}", failure);
        }
    }
}
