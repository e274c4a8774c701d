using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Restart;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A plan for a ferment that has stopped.</summary>
internal static class RestartPlanEntry
{
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.010, 1.200, Help: "Every sugar added later counted in.");
    private static readonly NumberInput Present = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.980, 1.200, Help: "Degassed, at 20 °C.");
    private static readonly NumberInput Temperature = new("temperature", "Temperature now", QuantityKind.Temperature, -5, 50);
    private static readonly NumberInput PhInput = new("ph", "pH", QuantityKind.Ph, 2.5, 4.5, Optional: true);
    private static readonly NumberInput Tolerance = new("tolerance", "Alcohol that the yeast bears", QuantityKind.Alcohol, 4, 23, Optional: true, Help: "By its strain sheet.");
    private static readonly NumberInput Free = new("free-sulfite", "Free sulfite", QuantityKind.SmallDose, 0, 200, Optional: true);
    private static readonly YesNoInput Sorbate = new("sorbate", "Was sorbate added?", Usual: false);

    private static readonly TextOutput Cause = new("cause", "Likely causes");
    private static readonly NumberOutput Yeast = new("yeast", "Fresh dry yeast", QuantityKind.Mass, 1);
    private static readonly NumberListOutput Doublings = new("doublings", "Wine added at each doubling", QuantityKind.Volume, 2);
    private static readonly TextOutput Steps = new("steps", "Steps");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "restart-plan",
        Subject = WorksheetSubject.Restart,
        Title = "Restarting a ferment that has stopped",
        Purpose = "The likely cause first, then steps with amounts and times for this batch. A restart often fails: keeping the wine sweet and stable, or blending it, is no shame.",
        Inputs = [GasFields.Volume, Original, Present, Temperature, PhInput, Tolerance, Free, Sorbate],
        Outputs = [Cause, Yeast, Doublings, Steps],
        Sources =
        [
            WorksheetSource.Published("Bisson1999", "what a stopped ferment is; below 4 g/L of sugar it counts as dry"),
            WorksheetSource.Published("Cook2014", "sorbate keeps yeast from multiplying"),
            WorksheetSource.CommonPractice("temperatures, pH 3.2, doubling with the wine, no inorganic nitrogen past 9 % vol, and all amounts"),
        ],
        Cautions = [Caution.Foam, Caution.CarbonDioxide, Caution.CarbonateFoam, Caution.GlassVessel],
        Examples =
        [
            WorkedExample.Of("volume=20 original-gravity=1.100 present-gravity=1.030 temperature=14 ph=3.4 tolerance=14", "common practice, no source: 0.5 g/L of yeast; cold below 15 °C", new("yeast", 10, 1e-9), ExpectedResult.Words("cause", Words(StopCause.Cold).ToString())),
            WorkedExample.Of("volume=20 original-gravity=1.100 present-gravity=1.030 temperature=20 ph=3.0", "common practice, no source: pH below 3.2", ExpectedResult.Words("cause", Words(StopCause.LowPh).ToString())),
            WorkedExample.Saying("volume=20 original-gravity=1.100 present-gravity=1.030 temperature=20 sorbate=yes", "sorbate keeps yeast from multiplying: Cook 2014", "no-restart"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (original, present) = (values.Gravity(Original), values.Gravity(Present));
        if (present >= original)
        {
            throw values.Wrong(Present, "below the original gravity; a ferment that never began is inoculated, not restarted");
        }

        var advice = RestartPlan.For(new(
            values.Volume(GasFields.Volume),
            original,
            present,
            values.Temperature(Temperature),
            values.Maybe(PhInput) is { } ph ? Ph.FromValue(ph) : null,
            values.Maybe(Tolerance) is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
            values.Maybe(Free) is { } free ? MassConcentration.FromMilligramsPerLiter(free) : null,
            values.Of(Sorbate)));
        var results = new List<WorksheetResult> { Cause.Is([.. advice.Causes.Select(Words)]) };
        var notices = new List<WorksheetNotice>();
        if (advice.Starter is { } starter)
        {
            results.Add(Yeast.Is(starter.YeastGrams));
            results.Add(Doublings.Are(starter.WineLiters));
        }
        else
        {
            notices.Add(WorksheetNotice.Warning("no-restart", "No restart is planned: it would fail. See the steps."));
        }

        if (advice.Causes[0] is StopCause.PerhapsFinished)
        {
            notices.Add(WorksheetNotice.Warning("perhaps-finished", "So little sugar is left by the balance that it may be finished: test for sugar before anything else."));
        }

        results.Add(Steps.Is([.. advice.Steps.Select((step, index) => (Phrase)$"{index + 1}. {step.Words}")]));
        return new(results, notices);
    }

    private static Phrase Words(StopCause cause) => cause switch
    {
        StopCause.PerhapsFinished => "It may be finished: hardly any sugar is left by the balance of mass.",
        StopCause.Sorbate => "Sorbate: no yeast multiplies with it.",
        StopCause.Sulfite => "Free sulfite above 30 mg/L holds yeast down.",
        StopCause.AlcoholTolerance => "The alcohol is as high as its yeast bears.",
        StopCause.Heat => "Too hot: yeast dies within hours above about 34 °C.",
        StopCause.Cold => "Too cold: yeast struggles below 15 °C.",
        StopCause.LowPh => "pH below 3.2, as in many meads.",
        _ => "Nothing measured stands out: mostly too little nitrogen or air early, or weak yeast.",
    };
}
