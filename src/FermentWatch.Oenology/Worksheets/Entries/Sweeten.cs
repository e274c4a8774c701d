using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What a sweetening aims at.</summary>
internal enum SweeteningAim
{
    Sugar,
    Gravity,
    Dry,
    MediumDry,
    Medium,
    Sweet,
}

/// <summary>Sweetener for a finished wine.</summary>
internal static class Sweeten
{
    private static readonly NumberInput Volume = new("volume", "Volume today", QuantityKind.Volume, 0.1, 10_000);
    private static readonly NumberInput GravityInput = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.970, 1.150);
    private static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 22);
    private static readonly NumberInput SugarInput = new("sugar", "Sugar measured", QuantityKind.SugarConcentration, 0, 300, 0, Help: "By a sugar test; gravity alone does not show it.");
    private static readonly ChoiceInput<SweeteningAim> Aim = new("aim", "Sweeten to", [
        (SweeteningAim.Sugar, "grams of sugar in a liter"),
        (SweeteningAim.Gravity, "a gravity"),
        (SweeteningAim.Dry, "the top of dry"),
        (SweeteningAim.MediumDry, "the middle of medium dry (semi-dry)"),
        (SweeteningAim.Medium, "the middle of medium (semi-sweet)"),
        (SweeteningAim.Sweet, "the beginning of sweet")]);
    private static readonly NumberInput TargetSugar = new("target-sugar", "Sugar wanted", QuantityKind.SugarConcentration, 0, 300, Optional: true);
    private static readonly NumberInput TargetGravity = new("target-gravity", "Gravity wanted", QuantityKind.Gravity, 0.970, 1.150, Optional: true);
    private static readonly NumberInput Acidity = new("titratable-acidity", "Titratable acidity", QuantityKind.AcidConcentration, 0, 20, Optional: true, Help: "As tartaric acid; needed for a sweetness word.");
    private static readonly NumberInput Free = new("free-sulfite", "Free sulfite", QuantityKind.SmallDose, 0, 200, 0);
    private static readonly NumberInput Total = new("total-sulfite", "Total sulfite", QuantityKind.SmallDose, 0, 500, 0);

    private static readonly NumberOutput Mass = new("sweetener-mass", "Sweetener", QuantityKind.Mass, 1);
    private static readonly NumberOutput VolumeAfter = new("volume-after", "Volume after it", QuantityKind.Volume, 2);
    private static readonly NumberOutput GravityAfter = new("gravity-after", "Gravity after it, to check against", QuantityKind.Gravity, 4);
    private static readonly NumberOutput SugarAfter = new("sugar-after", "Sugar after it", QuantityKind.SugarConcentration, 1);
    private static readonly NumberOutput AlcoholAfter = new("alcohol-after", "Alcohol after it", QuantityKind.Alcohol, 2);
    private static readonly NumberOutput AcidityAfter = new("titratable-acidity-after", "Titratable acidity after it", QuantityKind.AcidConcentration, 2);
    private static readonly NumberOutput FreeAfter = new("free-sulfite-after", "Free sulfite after it, by dilution", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput TotalAfter = new("total-sulfite-after", "Total sulfite after it, by dilution", QuantityKind.SmallDose, 0);
    private static readonly TextOutput Word = new("sweetness", "Sweetness word after it");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "sweeten",
        Subject = WorksheetSubject.Sweetening,
        Title = "Sweeten a finished wine",
        Purpose = "Sweetener to a sugar content, a gravity or a sweetness word, and what the wine is afterwards. pH moves by dilution: see 'acid-dilution'. The sweetness words are those of grape wine; for mead they describe.",
        Inputs = [Volume, GravityInput, Alcohol, SugarInput, Aim, TargetSugar, TargetGravity, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix, Acidity, Free, Total],
        Outputs = [Mass, VolumeAfter, GravityAfter, SugarAfter, AlcoholAfter, AcidityAfter, FreeAfter, TotalAfter, Word],
        Sources = [.. SweetenerFields.Sources, WorksheetSource.Published("OIMLR22", "density of ethanol and water"), WorksheetSource.Published("OIV316", "sweetness words")],
        Cautions = [Caution.BottlePressure, Caution.Sorbate, Caution.Sulfite, Caution.HoneyInfants],
        Examples =
        [
            WorkedExample.Of("volume=20 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=12 sweetener=sucrose", "computed by hand: V (c1 - c0)/(1 - 0.00062 c1) = 201.5 g", new("sweetener-mass", 201.5, 0.5), new("volume-after", 20.125, 0.002)),
            WorkedExample.Of("volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=medium titratable-acidity=6 sweetener=sucrose", "by hand: the middle between 16 and 45 g/L", new("sugar-after", 30.5, 0.05), ExpectedResult.Words("sweetness", "medium (semi-sweet)")),
            WorkedExample.Saying("volume=10 present-gravity=1.010 alcohol=12 sugar=40 aim=sugar target-sugar=20 sweetener=sucrose", "it holds more already", "sweet-enough"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var sweetener = SweetenerFields.Read(values);
        var before = new BlendPart(
            Liquid.Of(values.Volume(Volume), values.Gravity(GravityInput), values.Alcohol(Alcohol)),
            values.Maybe(Acidity) ?? 0, values.Of(Free), values.Of(Total), values.Of(SugarInput));
        var measured = SugarConcentration.FromGramsPerLiter(values.Of(SugarInput));
        var found = values.Of(Aim) == SweeteningAim.Gravity
            ? SweeteningPlan.ToGravity(before.Liquid, measured, SpecificGravity.FromRatio(values.Needed(TargetGravity, "because the aim is a gravity")), sweetener)
            : SweeteningPlan.ToSugar(before.Liquid, measured, SugarConcentration.FromGramsPerLiter(Target(values)), sweetener);
        if (found is not { } plan)
        {
            return WorksheetAnswer.Refuse("sweet-enough", "The wine is at or above the aim already, or the sweetener is too thin to reach it. To bring sweetness down, blend it with a dry wine.");
        }

        var after = Blend.Of(before, new BlendPart(sweetener.Amount(plan.Kilograms)));
        var results = new List<WorksheetResult>
        {
            Mass.Is(1000 * plan.Kilograms, 1000 * plan.Kilograms * sweetener.RelativeTolerance),
            VolumeAfter.Is(after.Liquid.Volume.Liters),
            GravityAfter.Is(after.Liquid.Gravity.Value, 0.001),
            SugarAfter.Is(plan.Sugar.GramsPerLiter, Math.Max(0.5, sweetener.RelativeTolerance * plan.Sugar.GramsPerLiter)),
            AlcoholAfter.Is(after.Liquid.Alcohol.Percent),
            FreeAfter.Is(after.FreeSulfite),
            TotalAfter.Is(after.TotalSulfite),
        };
        if (values.Maybe(Acidity) is not null)
        {
            results.Add(AcidityAfter.Is(after.TitratableAcidity));
            results.Add(Word.Is(SweetnessWords.Of(Sweetness.Of(plan.Sugar, after.TitratableAcidity))));
        }

        return new WorksheetAnswer(results,
        [
            WorksheetNotice.Warning("refermentation", "This sugar can ferment. Stabilize first and wait, or keep it cold in a keg, or pasteurize; then watch it under an airlock for at least two weeks at 18 °C or more."),
            WorksheetNotice.Note("free-sulfite-binds", "Sugar binds free sulfite: measure it again afterwards."),
        ]);
    }

    private static double Target(WorksheetValues values)
    {
        if (values.Of(Aim) == SweeteningAim.Sugar)
        {
            return values.Needed(TargetSugar, "because the aim is grams of sugar");
        }

        var acidity = values.Needed(Acidity, "because a sweetness word depends on it");
        return values.Of(Aim) switch
        {
            SweeteningAim.Dry => Sweetness.HighestOf(SweetnessCategory.Dry, acidity),
            SweeteningAim.MediumDry => Middle(SweetnessCategory.MediumDry, acidity),
            SweeteningAim.Medium => Middle(SweetnessCategory.Medium, acidity),
            _ => Sweetness.SweetFromGramsPerLiter + 1,
        };
    }

    private static double Middle(SweetnessCategory category, double acidity) =>
        (Sweetness.LowestOf(category, acidity) + Sweetness.HighestOf(category, acidity)) / 2;
}
