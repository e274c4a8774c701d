using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sorbate;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Sorbate against refermentation, or why not.</summary>
internal static class SorbateEntry
{
    private static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 25);
    private static readonly YesNoInput Active = new("active-ferment", "Is it still fermenting, or has it not been steady for two weeks?");
    private static readonly NumberInput Free = new("free-sulfite", "Free sulfite, measured", QuantityKind.SmallDose, 0, 200, Optional: true);
    private static readonly ChoiceInput<MalolacticStatus> Malolactic = new(
        "malolactic",
        "Malolactic bacteria",
        [
            (MalolacticStatus.Unknown, "Not known"),
            (MalolacticStatus.Prevented, "Never started, or prevented by sulfite"),
            (MalolacticStatus.FinishedAndSulfited, "Finished, and sulfited since"),
            (MalolacticStatus.Living, "At work, or finished without sulfite since"),
        ]);

    private static readonly NumberOutput DoseOutput = new("potassium-sorbate", "Potassium sorbate", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Mass = new("mass", "Potassium sorbate for the volume", QuantityKind.Mass, 2);
    private static readonly NumberOutput Acid = new("sorbic-acid", "Sorbic acid in it", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Limit = new("sorbic-acid-limit", "Limit of sorbic acid", QuantityKind.SmallDose, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sorbate",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Sorbate against refermentation",
        Purpose = "Dose by alcohol and pH from a published table of 10 to 14 % vol and pH 3.1 to 3.5. Outside it no dose is given. Sorbate keeps a few yeast cells from multiplying; it stops nothing.",
        Inputs = [SulfiteFields.Volume, Alcohol, SulfiteFields.Ph, Active, Malolactic, Free, LawField.Input],
        Outputs = [DoseOutput, Mass, Acid, Limit],
        Sources =
        [
            WorksheetSource.Published("Underhill", "dose by alcohol and pH"),
            WorksheetSource.Published("Cook2014", "what sorbate does not do"),
            WorksheetSource.Published("OIVII345", "limit 200 mg/L of sorbic acid"),
            WorksheetSource.Published("CFR24.246", "limit 300 mg/L, United States, through a club's note"),
            WorksheetSource.Computed("sorbic acid by atomic masses"),
        ],
        Cautions = [Caution.Sorbate, Caution.SteadyHydrometer, Caution.BottlePressure, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 alcohol=12 ph=3.3 active-ferment=no malolactic=prevented", "Underhill, Making Better Wines: 4 mL/L of a 30 g/L solution", new("potassium-sorbate", 120, 0.01), new("mass", 2.4, 0.001), new("sorbic-acid", 89.6, 0.1)),
            WorkedExample.Saying("volume=20 alcohol=10 ph=3.5 active-ferment=no malolactic=prevented law=eu", "270 mg/L hold 201.5 mg/L of sorbic acid, above 200", "above-sorbic-acid-limit"),
            WorkedExample.Saying("volume=20 alcohol=9 ph=3.3 active-ferment=no malolactic=prevented", "outside Underhill's table", "sorbate-will-not-hold"),
            WorkedExample.Saying("volume=20 alcohol=12 ph=3.3 active-ferment=yes malolactic=prevented", "Cook 2014: it does not stop a ferment", "active-ferment"),
            WorkedExample.Saying("volume=20 alcohol=12 ph=3.3 active-ferment=no malolactic=living", "Cook 2014: geranium taint", "living-malolactic-bacteria"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var decision = SorbateAdvice.Decide(
            values.Alcohol(Alcohol),
            Ph.FromValue(values.Of(SulfiteFields.Ph)),
            values.Of(Active),
            values.Of(Malolactic),
            values.Of(LawField.Input));
        Phrase otherWays = "Sorbate alone will not hold this. Other ways: acid first, pasteurizing, a cold keg, a sweetener that does not ferment.";
        return decision.Verdict switch
        {
            SorbateVerdict.RefusedActiveFerment => WorksheetAnswer.Refuse("active-ferment", "Sorbate does not stop a ferment that is at work: wait until it has ended, is clear and racked."),
            SorbateVerdict.RefusedLivingBacteria => WorksheetAnswer.Refuse("living-malolactic-bacteria", "Living malolactic bacteria turn sorbate into a geranium taint that never leaves: sulfite first, and sorbate only when they are gone."),
            SorbateVerdict.RefusedBacteriaUnknown => WorksheetAnswer.Refuse("malolactic-unknown", "It must be known whether malolactic bacteria live here: with sorbate they make a geranium taint that never leaves. Sulfite prevents them; a test for malic acid shows whether they were at work."),
            SorbateVerdict.WillNotHold => WorksheetAnswer.Refuse("sorbate-will-not-hold", $"Below 10 % vol or above pH 3.5 no dose is published. {otherWays}"),
            SorbateVerdict.BeyondTable => WorksheetAnswer.Refuse("beyond-table", "The published table ends at 14 % vol and pH 3.1 and says nothing here; no dose is made up. Near the yeast's tolerance a wine may need none: test for sugar and wait."),
            SorbateVerdict.AboveLimit => WorksheetAnswer.Refuse("above-sorbic-acid-limit", $"The table asks for {decision.PotassiumSorbate!.Value.Value.MilligramsPerLiter:F0} mg/L of potassium sorbate, {PotassiumSorbate.SorbicAcidOf(decision.PotassiumSorbate.Value.Value).MilligramsPerLiter:F0} mg/L of sorbic acid; the limit is {decision.SorbicAcidLimit.MilligramsPerLiter:F0} mg/L, and less would not be enough. {otherWays}"),
            _ => Dose(values, decision),
        };
    }

    private static WorksheetAnswer Dose(WorksheetValues values, SorbateDecision decision)
    {
        var dose = decision.PotassiumSorbate!.Value;
        var grams = dose.Value.GramsIn(values.Volume(SulfiteFields.Volume));
        var acid = PotassiumSorbate.SorbicAcidOf(dose.Value).MilligramsPerLiter;
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Note("few-cells", "It holds few cells, not many: the wine must be clear and racked. Dissolve it in a little water, never together with acid."),
        };
        if (values.Maybe(Free) is not { } free)
        {
            notices.Add(WorksheetNotice.Warning("sulfite-unknown", "Sorbate needs free sulfite beside it, and none was given: measure it."));
        }
        else if (SulfurDioxide.MolecularOf(MassConcentration.FromMilligramsPerLiter(free), Ph.FromValue(values.Of(SulfiteFields.Ph))).Value < SulfurDioxide.RedTarget)
        {
            notices.Add(WorksheetNotice.Warning("too-little-sulfite", "There is less than 0.5 mg/L of molecular sulfite: bring it up first."));
        }

        if (acid > 135)
        {
            notices.Add(WorksheetNotice.Warning("tasted", "Some taste sorbic acid from 135 mg/L."));
        }

        return new WorksheetAnswer(
            [DoseOutput.Is(dose, value => value.MilligramsPerLiter), Mass.Is(grams), Acid.Is(acid), Limit.Is(decision.SorbicAcidLimit.MilligramsPerLiter)],
            notices);
    }
}
