namespace Leadwright.Surveys.Tests;

public sealed class SurveySchemaTests
{
    [Theory]
    [InlineData("leadwright.survey/1", 1)]
    [InlineData("leadwright.survey/12", 12)]
    [InlineData("leadwright.survey/", null)]
    [InlineData("leadwright.survey/-1", null)]
    [InlineData("leadwright.readings/1", null)]
    [InlineData(null, null)]
    public void Version_is_read_from_the_name(string? name, int? version) => Assert.Equal(version, SurveySchema.VersionOf(name));
}
