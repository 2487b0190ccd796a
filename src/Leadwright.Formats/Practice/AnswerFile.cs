using Leadwright.Core.Practice;

namespace Leadwright.Formats.Practice;

/// <summary>A trainee's answer with the exercise that it answers.</summary>
/// <param name="Exercise">What the exercise is made from.</param>
/// <param name="Answer">The answer.</param>
public sealed record AnswerFile(ExerciseKey Exercise, PracticeAnswer Answer);
