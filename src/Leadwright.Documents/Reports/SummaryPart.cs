using System.Globalization;
using Leadwright.Core.Hookups;
using Leadwright.Core.Integrity;
using Leadwright.Core.Logs;
using Leadwright.Core.Studies.Limits;
using Leadwright.Core.Studies.Load;
using Leadwright.Documents.Model;
using Leadwright.Reports.Guarding;
using Leadwright.Reports.Hookups;

namespace Leadwright.Documents.Reports;

/// <summary>The summary on one page: the figures that matter, and the customer's questions with plain answers.</summary>
internal static class SummaryPart
{
    public static IEnumerable<Block> Blocks(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        yield return new KeyFiguresBlock([Energy(context), Peak(context), Factor(context), Usable(context)]);
        yield return new AnswersBlock(
        [
            Leads(context), Kept(context), EnergyAnswer(context), PeakAnswer(context), .. Capacity(context), .. Phases(context), .. PowerFactor(context),
            Limits(context), Events(context), Next(context),
        ]);
        if (study.Load is { Power.Count: > 2 } load)
        {
            yield return new FigureBlock(Charts.PowerChart.Draw(load.Power, null, [], null, words.Of("load.profile"), words, 70), words.Of("summary.figure")) { IsOptional = true };
        }

        if (study.Load is null) yield return new ParagraphBlock(words.Of("summary.no-power"), ParagraphStyle.Small);
    }

    private static KeyFigure Energy(ReportContext context)
    {
        var words = context.Words;
        var label = words.Of("key.energy");
        if (context.Subject.Mend?.Energy is { } energy)
        {
            var spread = (energy.HighWattHours - energy.LowWattHours) / 2;
            return new KeyFigure(label, context.Energy(energy.MendedWattHours, spread), "kWh", spread > 0.0005 * Math.Abs(energy.MendedWattHours)
                ? words.Of("key.energy.interval", ("low", context.Energy(energy.LowWattHours, spread)), ("high", context.Energy(energy.HighWattHours, spread)), ("percent", words.Number(100 * energy.Coverage, "0")))
                : context.Standing(WeakestEnergy(context)));
        }

        return context.Subject.Study.Load is { } load
            ? new KeyFigure(label, context.Kilo(load.Energy.NetWattHours, 5), "kWh", context.Standing(load.Energy.Weakest))
            : new KeyFigure(label, "–", "", words.Of("key.not-recorded"));
    }

    private static Standing WeakestEnergy(ReportContext context) => context.Subject.Study.Load?.Energy.Weakest ?? Standing.Measured;

    private static KeyFigure Peak(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Study.Load is not { Peaks: [{ } peak, ..] } || !double.IsFinite(peak.Watts)) return new KeyFigure(words.Of("key.peak"), "–", "", words.Of("key.not-known"));
        return new KeyFigure(
            words.Of("key.peak.minutes", ("minutes", words.Number(peak.Minutes, "0.##"))), context.Kilo(peak.Watts, 4), "kW", $"{words.Day(peak.From)} {peak.From.ToString("HH:mm", CultureInfo.InvariantCulture)}, {context.Standing(peak.Weakest)}");
    }

    private static KeyFigure Factor(ReportContext context)
    {
        var words = context.Words;
        return context.Subject.Study.Load?.PowerFactor is { } factor && double.IsFinite(factor.EnergyFactor)
            ? new KeyFigure(words.Of("key.factor"), words.Number(factor.EnergyFactor, "0.000"), "", factor.KnownShare < ReportContext.Whole ? words.Of("key.factor.part", ("percent", context.Percent(factor.KnownShare))) : words.Of("key.factor.note"))
            : context.Subject.Study.Load is { } load && double.IsFinite(load.LoadFactor)
                ? new KeyFigure(words.Of("key.load-factor"), words.Number(load.LoadFactor, "0.00"), "", words.Of("key.load-factor.note"))
                : new KeyFigure(words.Of("key.factor"), "–", "", words.Of("key.not-recorded"));
    }

    private static KeyFigure Usable(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Guard is not { Usable.Count: > 0 } guard) return new KeyFigure(words.Of("key.usable"), "–", "", words.Of("key.not-judged"));
        var least = guard.Usable.MinBy(pair => pair.Value);
        var text = context.Percent(least.Value);
        return new KeyFigure(words.Of("key.usable"), text[..^2], "%", least.Value >= 1 ? words.Of("key.usable.all") : words.Of("key.usable.least", ("channel", least.Key.ToString())));
    }

    private static QuestionAnswer Leads(ReportContext context)
    {
        var (words, guard, check) = (context.Words, context.Subject.Guard, context.Subject.Check);
        var question = words.Of("ask.leads");
        var spans = context.HookupSpans.Where(span => !span.IsDoubtful).ToList();
        if (spans.Count > 0)
        {
            var said = string.Join(' ', spans.Take(3).Select(span => $"{SpanWording.Of(span)[..(SpanWording.Of(span).IndexOf('.', StringComparison.Ordinal) + 1)]}".TrimEnd('.') + $" ({When(context, span)})."));
            var more = spans.Count > 3 ? " " + words.Of("ask.leads.more", ("count", $"{spans.Count - 3}")) : "";
            var lost = context.Subject.Mend is { } mend && mend.Corrections.Any(correction => correction.Basis == Core.Mending.Answers.CorrectionBasis.Modelled) ? words.Of("ask.leads.modelled")
                : context.IsMended ? words.Of("ask.leads.mended") : "";
            return new QuestionAnswer(question, words.Of("ask.leads.no"), $"{said}{more} {lost}".Trim(), context.IsMended ? AnswerMood.Partly : AnswerMood.Bad);
        }

        if (check is null && guard is null) return new QuestionAnswer(question, words.Of("ask.unknown"), words.Of("ask.leads.unjudged"), AnswerMood.Open);
        return check?.Verdict.Verdict switch
        {
            Verdict.Correct => new QuestionAnswer(question, words.Of("ask.yes"), $"{check.Headline} {check.Confidence}", AnswerMood.Good),
            Verdict.Faulty => new QuestionAnswer(question, words.Of("ask.leads.no"), $"{check.Headline} {check.Confidence}", AnswerMood.Bad),
            null when guard is { Usable.Count: > 0 } && guard.Notes.IsEmpty => new QuestionAnswer(question, words.Of("ask.yes"), words.Of("ask.leads.nothing"), AnswerMood.Good),
            _ => new QuestionAnswer(question, words.Of("ask.leads.open"), check is null ? words.Of("ask.leads.unjudged") : $"{check.Headline} {check.Confidence}", AnswerMood.Open),
        };
    }

    private static string When(ReportContext context, GuardSpan span) => span.From <= context.Subject.Guard!.From && span.To >= context.Subject.Guard.To
        ? context.Words.Of("when.always")
        : span.From <= context.Subject.Guard.From ? context.Words.Of("when.until", ("time", Moment(context, span.To)))
        : span.To >= context.Subject.Guard.To ? context.Words.Of("when.since", ("time", Moment(context, span.From)))
        : context.Words.Of("when.between", ("from", Moment(context, span.From)), ("to", Moment(context, span.To)));

    private static string Moment(ReportContext context, DateTime time) => $"{context.Words.Day(time)} {time.ToString("HH:mm", CultureInfo.InvariantCulture)}";

    private static QuestionAnswer Kept(ReportContext context)
    {
        var (words, guard) = (context.Words, context.Subject.Guard);
        var question = words.Of("ask.kept");
        if (guard is not { Usable.Count: > 0 }) return new QuestionAnswer(question, words.Of("ask.unknown"), words.Of("ask.kept.unjudged"), AnswerMood.Open);
        var least = guard.Usable.Values.Min();
        var gaps = guard.Spans.Where(span => span.Kind == SpanKind.NoData).ToList();
        var off = TimeSpan.FromTicks(gaps.Sum(span => span.Length.Ticks));
        var text = least >= 0.9995 ? words.Of("ask.kept.all")
            : words.Of(guard.Usable.Values.All(share => share < 0.9995) ? "ask.kept.each" : "ask.kept.some", ("list", string.Join(", ", guard.Usable.Where(pair => pair.Value < 0.9995).Select(pair => $"{pair.Key} {context.Percent(pair.Value)}"))));
        if (gaps.Count > 0) text += " " + words.Of(gaps.Count == 1 ? "ask.kept.gaps.one" : "ask.kept.gaps", ("length", words.Length(off.TotalSeconds)), ("count", $"{gaps.Count}"));
        return new QuestionAnswer(question, least >= 0.9995 ? words.Of("ask.kept.whole") : words.Of("ask.kept.least", ("percent", context.Percent(least))), text, least >= 0.995 ? AnswerMood.Good : least >= 0.6 ? AnswerMood.Partly : AnswerMood.Bad);
    }

    private static QuestionAnswer EnergyAnswer(ReportContext context)
    {
        var words = context.Words;
        var question = words.Of("ask.energy");
        if (context.Subject.Study.Load is not { } load) return new QuestionAnswer(question, words.Of("ask.unknown"), words.Of("ask.energy.none"), AnswerMood.Open);
        var days = (context.Log.To - context.Log.From).TotalDays;
        if (context.Subject.Mend?.Energy is { } energy)
        {
            var spread = (energy.HighWattHours - energy.LowWattHours) / 2;
            var text = spread > 0.0005 * Math.Abs(energy.MendedWattHours)
                ? words.Of("ask.energy.interval", ("low", context.Energy(energy.LowWattHours, spread)), ("high", context.Energy(energy.HighWattHours, spread)), ("percent", words.Number(100 * energy.Coverage, "0")), ("recorded", context.Kilo(energy.RecordedWattHours, 5)))
                : words.Of("ask.energy.sum", ("length", words.Length(days * 86400)));
            if (load.Energy.ExportWattHours > 0.001 * load.Energy.ImportWattHours) text += " " + words.Of("ask.energy.export", ("kwh", context.Kilo(load.Energy.ExportWattHours, 4)));
            if (context.Subject.AccuracyPercent <= 0) text += " " + words.Of("ask.energy.no-accuracy");
            return new QuestionAnswer(question, $"{context.Energy(energy.MendedWattHours, spread)} kWh.", text);
        }

        return new QuestionAnswer(question, $"{context.Kilo(load.Energy.NetWattHours, 5)} kWh.", words.Of("ask.energy.sum", ("length", words.Length(days * 86400))));
    }

    private static QuestionAnswer PeakAnswer(ReportContext context)
    {
        var words = context.Words;
        var question = words.Of("ask.peak");
        if (context.Subject.Study.Load is not { Peaks: [{ } peak, ..] } load || !double.IsFinite(peak.Watts)) return new QuestionAnswer(question, words.Of("ask.unknown"), words.Of("ask.peak.none"), AnswerMood.Open);
        var text = words.Of("ask.peak.says", ("minutes", words.Number(peak.Minutes, "0.##")), ("from", Moment(context, peak.From)), ("mean", context.Kilo(peak.MeanWatts, 3)), ("factor", words.Number(load.LoadFactor, "0.00")));
        if (peak.LeftOutCount > 0) text += " " + words.Of("ask.peak.left-out", ("count", $"{peak.LeftOutCount}"));
        return new QuestionAnswer(question, $"{context.Kilo(peak.Watts, 4)} kW.", text);
    }

    private static IEnumerable<QuestionAnswer> Capacity(ReportContext context)
    {
        var (words, load) = (context.Words, context.Subject.Study.Load);
        if (load?.DesignCurrent is { } known && !double.IsFinite(known.DesignAmperes))
        {
            yield return new QuestionAnswer(words.Of("ask.capacity"), words.Of("ask.unknown"), words.Of("ask.capacity.unknown"), AnswerMood.Open);
        }
        else if (load?.DesignCurrent is { } design)
        {
            var text = words.Of("ask.capacity.design", ("amperes", words.Digits(design.DesignAmperes, 3)), ("rated", words.Digits(design.RatedAmperes, 3)), ("spare", words.Digits(design.SpareAmperes, 3)));
            var isRefused = load.ExistingLoad is { NeededAmperes: var needed, Fits: false } && double.IsFinite(needed);
            if (isRefused) text += " " + words.Of("ask.capacity.refused", ("needed", words.Digits(load.ExistingLoad!.NeededAmperes, 3)), ("rated", words.Digits(design.RatedAmperes, 3)));
            else if (load.ExistingLoad is { IsShown: false }) text += " " + words.Of("ask.capacity.conditions");
            yield return new QuestionAnswer(words.Of("ask.capacity"), words.Of(!design.Fits ? "ask.no" : isRefused ? "ask.capacity.one" : "ask.yes"), text, !design.Fits ? AnswerMood.Bad : isRefused ? AnswerMood.Partly : AnswerMood.Good);
        }
    }

    private static IEnumerable<QuestionAnswer> Phases(ReportContext context)
    {
        var (words, load) = (context.Words, context.Subject.Study.Load);
        if (load is null || !(PhaseLoading.DeviationPercent(load.Phases) is var deviation && double.IsFinite(deviation))) yield break;
        var list = string.Join(", ", load.Phases.Select(phase => $"I{phase.Place.Suffix()} {words.Digits(phase.MeanAmperes, 3)} A"));
        yield return new QuestionAnswer(
            words.Of("ask.phases"), words.Of(deviation < 10 ? "ask.phases.even" : deviation < 30 ? "ask.phases.some" : "ask.phases.no"), words.Of("ask.phases.says", ("percent", words.Number(deviation, "0")), ("list", list)),
            deviation < 10 ? AnswerMood.Good : deviation < 30 ? AnswerMood.Partly : AnswerMood.Bad);
    }

    private static IEnumerable<QuestionAnswer> PowerFactor(ReportContext context)
    {
        var (words, load) = (context.Words, context.Subject.Study.Load);
        if (load?.PowerFactor is not { } factor || !double.IsFinite(factor.EnergyFactor)) yield break;
        var isGood = factor.EnergyFactor >= factor.TargetFactor;
        // Leading and lagging energy cancel in the whole, on a meter that counts lagging energy they do not.
        var laggingVarHours = factor.KnownShare >= ReportContext.Whole && load.Reactive is { } registers ? registers.ImportWattHours : factor.LaggingVarHours;
        var lagging = factor.ActiveWattHours / Math.Sqrt((factor.ActiveWattHours * factor.ActiveWattHours) + (laggingVarHours * laggingVarHours));
        var isMixed = factor.LeadingVarHours > 0.05 * factor.LaggingVarHours && factor.LaggingVarHours > 0;
        var isHalf = isGood && ((isMixed && lagging < factor.TargetFactor) || factor.BelowShare > 0.25);
        var text = words.Of("ask.factor.says", ("factor", words.Number(factor.EnergyFactor, "0.000")), ("target", words.Number(factor.TargetFactor, "0.00")), ("percent", words.Number(100 * factor.BelowShare, "0")));
        if (isMixed) text += " " + words.Of("ask.factor.lagging", ("factor", words.Number(lagging, "0.000")));
        if (factor.KnownShare < ReportContext.Whole) text += " " + words.Of("load.factor.part", ("percent", context.Percent(factor.KnownShare)));
        if (factor.AverageVars > 0 && !isGood) text += " " + words.Of("ask.factor.kvar", ("kvar", context.Kilo(factor.AverageVars, 2)));
        yield return new QuestionAnswer(words.Of("ask.factor"), words.Of(isHalf ? "ask.factor.half" : isGood ? "ask.yes" : "ask.no"), text, isHalf ? AnswerMood.Partly : isGood ? AnswerMood.Good : AnswerMood.Bad);
    }

    private static QuestionAnswer Limits(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        var question = words.Of("ask.voltage");
        if (study.Limits.IsEmpty) return new QuestionAnswer(question, words.Of("ask.not-judged"), study.Voltages.IsEmpty ? words.Of("ask.voltage.none") : words.Of("ask.voltage.no-limits"), AnswerMood.Open);
        var lines = study.Limits.SelectMany(report => report.Lines).ToList();
        var (pass, fail, open) = (lines.Count(line => line.Verdict == LimitVerdict.Pass), lines.Count(line => line.Verdict == LimitVerdict.Fail), lines.Count(line => line.Verdict == LimitVerdict.NotEnoughData));
        var text = words.Of("ask.voltage.counts", ("table", string.Join(", ", study.Limits.Select(report => LimitWords.Title(report.Table)))), ("pass", $"{pass}"), ("fail", $"{fail}"), ("open", $"{open}"));
        var failed = lines.Where(line => line.Verdict == LimitVerdict.Fail).Select(line => LimitWords.Quantity(line.Rule, line.Order, words)).Distinct().Take(4).ToList();
        if (failed.Count > 0) text += " " + words.Of("ask.voltage.failed", ("list", string.Join(", ", failed)));
        return new QuestionAnswer(
            question, words.Of(fail > 0 ? "ask.no" : pass == 0 ? "ask.not-judged" : open > 0 ? "ask.voltage.as-far" : "ask.yes"), text,
            fail > 0 ? AnswerMood.Bad : pass == 0 ? AnswerMood.Open : open > 0 ? AnswerMood.Partly : AnswerMood.Good);
    }

    private static QuestionAnswer Events(ReportContext context)
    {
        var (words, events) = (context.Words, context.Subject.Study.Events);
        var question = words.Of("ask.events");
        var outages = context.Subject.Guard?.Spans.Where(span => span.Kind == SpanKind.Outage && !span.IsDoubtful).ToList() ?? [];
        var said = outages.Count > 0 ? words.Of(outages.Count == 1 ? "ask.events.outages.one" : "ask.events.outages", ("count", $"{outages.Count}"), ("first", Moment(context, outages[0].From)), ("length", words.Length(outages.Sum(span => span.Length.TotalSeconds)))) + " " : "";
        if (events is not { } found) return new QuestionAnswer(question, outages.Count > 0 ? words.Of("ask.yes") : words.Of("ask.unknown"), said + words.Of("ask.events.none-seen"), outages.Count > 0 ? AnswerMood.Bad : AnswerMood.Open);
        if (found.IsEmpty && outages.Count == 0) return new QuestionAnswer(question, words.Of("ask.events.no"), words.Of("ask.events.looked"), AnswerMood.Good);
        return new QuestionAnswer(question, words.Of("ask.yes"), said + words.Of("ask.events.says", ("count", $"{found.Length}"), ("list", string.Join(", ", found.GroupBy(one => one.Kind).Select(group => $"{group.Count()} × {words.Of($"event.{group.Key}")}")))), AnswerMood.Bad);
    }

    // A recording that is half estimated answers half the question.
    public static string? Repeat(ReportContext context)
    {
        var words = context.Words;
        if (context.Subject.Mend?.Energy is { } energy && energy.MendedWattHours != 0)
        {
            var share = (energy.HighWattHours - energy.LowWattHours) / 2 / Math.Abs(energy.MendedWattHours);
            if (share > 0.05) return words.Of("next.repeat-energy", ("percent", words.Number(100 * share, "0")));
        }

        return context.Subject.Guard is { Usable.Count: > 0 } guard && guard.Usable.Values.Min() < 0.8
            ? words.Of("next.repeat", ("channels", string.Join(", ", guard.Usable.Where(pair => pair.Value < 0.8).Select(pair => pair.Key.ToString())))) : null;
    }

    private static QuestionAnswer Next(ReportContext context)
    {
        var (words, study) = (context.Words, context.Subject.Study);
        var question = words.Of("ask.next");
        var steps = new List<string>();
        if (context.Subject.Check is { Verdict.Verdict: Verdict.Faulty, Steps.IsEmpty: false } check && context.Subject.CheckSpan.To >= context.Log.To) steps.Add(check.Steps[0]);
        else if (context.Subject.Check is { Verdict.Verdict: Verdict.Undecided, Settle: { } settle }) steps.Add($"{settle.Question} {SettleWording.Frame}");
        if (Repeat(context) is { } repeat) steps.Add(repeat);
        steps.AddRange(study.Findings.Where(finding => finding.CheckNext.Length > 0).Select(finding => words.Of("next.finding", ("says", finding.Says), ("next", finding.CheckNext))).Distinct().Take(Math.Max(3 - steps.Count, 0)));
        return new QuestionAnswer(question, "", steps.Count == 0 ? words.Of("ask.next.none") : string.Join(' ', steps.Select((step, index) => $"**{index + 1}.** {(step[^1] is '.' or '?' ? step : step + ".")}")));
    }
}
