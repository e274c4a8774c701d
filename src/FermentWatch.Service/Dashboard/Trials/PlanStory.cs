using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>A plan in a sentence and four figures.</summary>
internal static class PlanStory
{
    /// <summary>The plan as a sentence.</summary>
    public static string Sentence(BenchTrial trial, Reader reader)
    {
        var request = trial.Request;
        var factor = request.Factors[0];
        var name = TrialWords.Additive(factor.Additive.Code);
        if (trial.Free is not null)
        {
            return TrialText.Of("plan-free", reader.Number(request.GlassMilliliters, "0"), name, TrialWords.Dose(factor.LargestGramsPerLiter, reader));
        }

        var flight = trial.Current;
        var count = Count(flight.Glasses.Length);
        var top = TrialWords.Dose(flight.Glasses.Max(glass => glass.DosesGramsPerLiter[0]), reader);
        var text = request.Kind switch
        {
            TrialPlanKind.Grid => TrialText.Of("plan-grid", count, name, TrialWords.Additive(request.Factors[1].Additive.Code)),
            TrialPlanKind.Held => TrialText.Of("plan-held", count, top, name, trial.Held is { } held ? Day(held.From, reader) : "", trial.Held is { } until ? Day(until.Until, reader) : ""),
            TrialPlanKind.BracketThenHalve => TrialText.Of("plan-bracket", count, top, name, TrialWords.Dose(factor.FinestStepGramsPerLiter, reader)),
            _ => TrialText.Of("plan-ladder", count, top, name),
        };
        return text + " " + TrialText.Of(flight.Twin is null ? "plan-control" : "plan-control-twin");
    }

    /// <summary>Tasters, wine used, what is in each glass, alcohol.</summary>
    public static IEnumerable<(string Name, string Value)> Figures(BenchTrial trial, Reader reader)
    {
        var request = trial.Request;
        var budget = SampleBudget.Of(trial, trial.Current);
        yield return (TrialText.Of("figure-tasters"), TrialWords.Tasters(trial));
        yield return (TrialText.Of("figure-wine"), TrialText.Of(
            "figure-wine-value", Litre(budget.WineMilliliters, reader), reader.Volume(request.Wine.VolumeLiters), reader.Number(100 * budget.ShareOfBatch, "0.#")));
        yield return (TrialText.Of("figure-glass"), trial.Free is null
            ? TrialText.Of("figure-glass-value", reader.Number(request.GlassMilliliters, "0"), reader.Number(request.PourMilliliters, "0"))
            : TrialText.Of("figure-glass-free", reader.Number(request.GlassMilliliters, "0")));
        yield return (TrialText.Of("figure-alcohol"), budget.EthanolGramsPerTaster is { } grams
            ? TrialText.Of("figure-alcohol-value", reader.Number(grams, "0"))
            : TrialText.Of("figure-alcohol-unknown"));
    }

    /// <summary>What must be said beside it.</summary>
    public static IReadOnlyList<BenchNotice> Notices(BenchTrial trial) =>
        [.. TrialPlanning.Plan(trial.Request).Notices.OrderByDescending(notice => notice.Weight).DistinctBy(notice => (notice.Code, notice.Values.FirstOrDefault()?.Number))];

    /// <summary>What can be predicted for the glasses beside the dose: gravity, pH, acidity.</summary>
    public static IReadOnlyList<string> Columns(BenchTrial trial, TrialFlight flight)
    {
        var first = trial.Predict(flight.Glasses[0]);
        return
        [
            .. new[] { first.SpecificGravity is null ? null : "gravity", MovesAcid(trial) && first.AcidityLowGramsPerLiter is not null ? "acidity" : null, MovesAcid(trial) && first.Ph is not null ? "ph" : null }
                .OfType<string>(),
        ];
    }

    /// <summary>What a glass should measure.</summary>
    public static string Cell(BenchTrial trial, TrialGlass glass, string column, Reader reader)
    {
        var predicted = trial.Predict(glass);
        return column switch
        {
            "gravity" => reader.Gravity(predicted.SpecificGravity!.Value.Value.Value),
            "ph" => predicted.Ph is { } ph ? reader.Number(ph.Value, "0.00") + " ±" + Words.Figures.NoBreak + reader.Number(ph.Tolerance, "0.0#") : "",
            _ => predicted is { AcidityLowGramsPerLiter: { } low, AcidityHighGramsPerLiter: { } high }
                ? (high - low < 0.05 ? reader.Number(low, "0.0") : reader.Number(low, "0.0") + "–" + reader.Number(high, "0.0")) + Words.Figures.NoBreak + "g/L"
                : "",
        };
    }

    /// <summary>'November 12'.</summary>
    public static string Day(DateOnly day, Reader reader) => reader.MonthDay(reader.StartOf(day));

    private static bool MovesAcid(BenchTrial trial) => trial.Request.Factors.Any(factor => factor.Additive.Role is AdditiveRole.Acid or AdditiveRole.Deacidifier);

    private static string Litre(double milliliters, Reader reader) => reader.Number(milliliters / 1000, "0.00") + Words.Figures.NoBreak + "L";

    private static string Count(int number) => TrialText.Of("count-" + number.ToString(global::System.Globalization.CultureInfo.InvariantCulture));
}
