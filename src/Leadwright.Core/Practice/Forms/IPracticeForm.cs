namespace Leadwright.Core.Practice.Forms;

/// <summary>A form of exercise: how it is drawn, what it asks, what is right.</summary>
internal interface IPracticeForm
{
    /// <summary>Makes the exercise of a key.</summary>
    Exercise Make(ExerciseKey key);
}
