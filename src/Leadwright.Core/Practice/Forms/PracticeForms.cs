namespace Leadwright.Core.Practice.Forms;

/// <summary>The forms by their names.</summary>
internal static class PracticeForms
{
    public static IPracticeForm Of(PracticeForm form) => form switch
    {
        PracticeForm.Panel => new PanelForm(true),
        PracticeForm.NameTheFault => new PanelForm(false),
        PracticeForm.WhatNext => new WhatNextForm(),
        PracticeForm.HeaterTest => new HeaterTestForm(),
        PracticeForm.PlausibleTotal => new PlausibleTotalForm(),
        PracticeForm.LeadOrSupply => new LeadOrSupplyForm(),
        PracticeForm.CornerOrOpen => new CornerOrOpenForm(),
        PracticeForm.OpenNeutral => new OpenNeutralForm(),
        PracticeForm.StillSaved => new StillSavedForm(),
        _ => throw new ArgumentOutOfRangeException(nameof(form), form, "Not a form of exercise."),
    };
}
