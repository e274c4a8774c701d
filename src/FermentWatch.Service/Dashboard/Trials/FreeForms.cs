using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>The ledger of a glass that grows: one button a line.</summary>
internal static class FreeForms
{
    /// <summary>A sip, unless another amount is typed. [mL]</summary>
    public const double UsualSip = 10;

    /// <summary>Plain wine that rescues an overshot glass, unless another amount is typed. [mL]</summary>
    public const double UsualDilution = 20;

    private const int LongestNote = 100;

    public static TrialField Amount { get; } = new("amount", QuantityKind.Ratio, 0.001, 1000, false, "");

    /// <summary>Stock for one step more, as the scale shows it.</summary>
    public static RoundedAmount Next(BenchTrial trial, int factor, double step)
    {
        var grams = FreeGlass.StockForStep(trial.Free!.States(trial.Stocks)[^1], trial.Stocks[factor], factor, step);
        return RoundedAmount.Of(grams, trial.Request.Equipment.Scales.Min(scale => scale.DivisionGrams));
    }

    /// <summary>The two steps that are offered for a factor: the coarse one and the finest.</summary>
    public static IReadOnlyList<double> Steps(TrialFactor factor) => [.. new[] { factor.DosesGramsPerLiter[0], factor.FinestStepGramsPerLiter }.Distinct()];

    public static async Task<IResult> ActAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { Trial.Free: not null } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var amount = Amount.Read(form[Amount.Name], form.Visit.Reader, faults);
        var note = form["note"].Length > LongestNote ? form["note"][..LongestNote] : form["note"];
        var act = form["act"];
        StoredTrial? after = null;
        try
        {
            after = faults.Count > 0 ? null : await form.Service<Store>().ChangeTrialAsync(
                found.Id, was => was.State is TrialState.Mixing or TrialState.Tasting or TrialState.Told ? Changed(was, act, amount, note) : was, cancellation);
        }
        catch (ArgumentOutOfRangeException)
        {
            faults[Amount.Name] = TrialText.Of("free-too-much", form.Visit.Reader.Number(Amount.Low, "0.000"));
        }

        return after is null
            ? FormHosting.Again<FreePage>(form, new() { ["Stored"] = found, ["State"] = new TrialTyped(InstrumentForms.TypedOf(form), faults, []) })
            : FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/{(act == "choose" ? "scale" : "tasting")}"));
    }

    private static StoredTrial Changed(StoredTrial was, string act, double? amount, string note)
    {
        var trial = was.Trial;
        switch (act)
        {
            case "sip":
                return With(new FreeGlassEntry(FreeGlassAct.Sip, 0, amount ?? UsualSip, note));
            case "dilute":
                return With(new FreeGlassEntry(FreeGlassAct.Dilution, 0, amount ?? UsualDilution, note));
            case "back":
                return trial.Free!.Entries.IsEmpty ? was : was with { Trial = trial with { Free = trial.Free with { Entries = trial.Free.Entries.RemoveAt(trial.Free.Entries.Length - 1) } } };
            case "choose":
                return was with { State = TrialState.ScalingUp, Trial = trial.ChooseFreeGlass() };
            default:
                return act.Split('-') is ["add", var factor, var step] && int.TryParse(factor, NumberStyles.None, CultureInfo.InvariantCulture, out var place) && place < trial.Stocks.Length
                    && int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out var which) && which < Steps(trial.Request.Factors[place]).Count
                        ? With(new FreeGlassEntry(FreeGlassAct.Addition, place, amount ?? Next(trial, place, Steps(trial.Request.Factors[place])[which]).Taken, note))
                        : was;
        }

        StoredTrial With(FreeGlassEntry entry) => was with { State = TrialState.Tasting, Trial = trial.WithEntry(entry) };
    }
}
