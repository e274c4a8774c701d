using FermentWatch.Oenology.Acidity;
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
    private static readonly NumberInput SugarInput = new("sugar", "Sugar measured", QuantityKind.SugarConcentration, 0, 300, Optional: true, Help: "By a sugar test; gravity alone does not show it. Empty: counted as none.");
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
    private static readonly NumberInput Ph = AcidFields.Ph with { Label = "pH now", Optional = true, Help = "Of the degassed sample. With the acidity it tells the pH afterwards." };
    private static readonly ChoiceInput<AcidProfile> Drink = AcidFields.Profile with { Optional = true, Help = "Only for the proportions of the acids. Empty: as grape wine, which is said." };
    private static readonly NumberInput Free = new("free-sulfite", "Free sulfite", QuantityKind.SmallDose, 0, 200, Optional: true);
    private static readonly NumberInput Total = new("total-sulfite", "Total sulfite", QuantityKind.SmallDose, 0, 500, Optional: true);

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
        Purpose = "Sweetener to a sugar content, a gravity or a sweetness word, and what the wine is afterwards. pH moves a little, by dilution and by the acid of honey: it is told where pH and acidity are given. The sweetness words are those of grape wine; for mead they describe.",
        Inputs = [Volume, GravityInput, Alcohol, SugarInput, Aim, TargetSugar, TargetGravity, SweetenerFields.Kind, SweetenerFields.HoneyWater, SweetenerFields.Brix, Acidity, Ph, Drink, Free, Total],
        Outputs = [Mass, VolumeAfter, GravityAfter, SugarAfter, AlcoholAfter, AcidityAfter, AcidFields.PhAfter, FreeAfter, TotalAfter, Word],
        Sources = [.. SweetenerFields.Sources, WorksheetSource.Published("OIMLR22", "density of ethanol and water"), WorksheetSource.Published("OIV316", "sweetness words"), WorksheetSource.Published("White1962", "acid of honey"), WorksheetSource.Published("PHREEQC", "check of the balance of charges"), WorksheetSource.FromMemory("dextrose tastes 0.6 to 0.75 times as sweet as table sugar")],
        Cautions = [Caution.BottlePressure, Caution.Sorbate, Caution.Sulfite, Caution.HoneyInfants],
        Examples =
        [
            WorkedExample.Of("volume=20 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=12 sweetener=sucrose", "computed by hand: V (c1 - c0)/(1 - 0.00062 c1) = 201.5 g", new("sweetener-mass", 201.5, 0.5), new("volume-after", 20.125, 0.002)),
            WorkedExample.Of("volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=medium titratable-acidity=6 sweetener=sucrose", "by hand: the middle between 16 and 45 g/L", new("sugar-after", 30.5, 0.05), ExpectedResult.Words("sweetness", "medium (semi-sweet)")),
            WorkedExample.Of("volume=8 present-gravity=1.0006 alcohol=0 sugar=0 aim=gravity target-gravity=1.0669 sweetener=syrup sweetener-brix=65 titratable-acidity=5.415 ph=3.219 drink=grape-wine", "PHREEQC, wine base A diluted to 80 % (here by 2 L of syrup without acid): pH 3.232", new("volume-after", 10.0, 0.02), new("ph-after", 3.232, 0.02), new("titratable-acidity-after", 4.33, 0.05)),
            WorkedExample.Saying("volume=10 present-gravity=0.992 alcohol=12 aim=sugar target-sugar=12 sweetener=sucrose", "nobody measured sugar", "sugar-not-measured"),
            WorkedExample.Saying("volume=10 present-gravity=0.992 alcohol=12 sugar=2 aim=sugar target-sugar=12 sweetener=sucrose titratable-acidity=6 ph=3.3", "no drink was named", "drink-assumed"),
            WorkedExample.Saying("volume=10 present-gravity=1.010 alcohol=12 sugar=40 aim=sugar target-sugar=20 sweetener=sucrose", "it holds more already", "sweet-enough"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var sweetener = SweetenerFields.Read(values);
        var before = new BlendPart(
            Liquid.Of(values.Volume(Volume), values.Gravity(GravityInput), values.Alcohol(Alcohol)),
            values.Maybe(Acidity) ?? 0, values.Maybe(Free) ?? 0, values.Maybe(Total) ?? 0, values.Maybe(SugarInput) ?? 0);
        var measured = SugarConcentration.FromGramsPerLiter(values.Maybe(SugarInput) ?? 0);
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
        };
        if (values.Maybe(Free) is not null)
        {
            results.Add(FreeAfter.Is(after.FreeSulfite));
        }

        if (values.Maybe(Total) is not null)
        {
            results.Add(TotalAfter.Is(after.TotalSulfite));
        }

        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Warning("refermentation", "This sugar can ferment. Stabilize first and wait, or keep it cold in a keg, or pasteurize; then watch it under an airlock for at least two weeks at 18 °C or more."),
            WorksheetNotice.Note("free-sulfite-binds", "Sugar binds free sulfite: measure it again afterwards."),
        };
        if (values.Maybe(SugarInput) is null)
        {
            notices.Add(WorksheetNotice.Note("sugar-not-measured", "No sugar was given, so the wine is counted as holding none: what it holds comes on top. Gravity does not show it."));
        }

        if (values.Maybe(Acidity) is not null)
        {
            var acid = AcidAfter(values, after.Liquid.Volume, sweetener, plan.Kilograms, notices);
            results.Insert(5, acid is { } told
                ? AcidityAfter.Is(told.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric), told.Acidity.Tolerance / 1000 * AcidBasis.Tartaric.GramsPerEquivalent(), told.Acidity.Validity)
                : AcidityAfter.Is(after.TitratableAcidity));
            if (acid is { } predicted)
            {
                results.Insert(6, AcidFields.PhAfter.Is(predicted.Ph, ph => ph.Value));
            }

            results.Add(Word.Is(SweetnessWords.Of(Sweetness.Of(plan.Sugar, after.TitratableAcidity))));
        }

        if (sweetener.Kind is SweetenerKind.Dextrose or SweetenerKind.DextroseMonohydrate)
        {
            notices.Add(WorksheetNotice.Note("tastes-less-sweet", $"A gram of dextrose tastes {RelativeSweetness.Glucose.Least:0.0#} to {RelativeSweetness.Glucose.Most:0.0#} times as sweet as one of table sugar (from memory): taste before you add more, for all of it can ferment."));
        }

        return new WorksheetAnswer(results, notices);
    }

    /// <summary>Acid and pH afterwards; null, with the reason among the notices, where they can't be told.</summary>
    private static AcidPrediction? AcidAfter(WorksheetValues values, Volume after, Sweetener sweetener, double kilograms, List<WorksheetNotice> notices)
    {
        if (sweetener.Kind is SweetenerKind.Concentrate)
        {
            notices.Add(WorksheetNotice.Note("juice-acid", "Juice brings acid of its own, which is not counted here: acidity is by dilution alone and the pH is not told. With the juice's own acidity and pH use 'blend-wines', or measure."));
            return null;
        }

        if (values.Maybe(Ph) is not { } ph)
        {
            return null;
        }

        var measured = new AcidMeasurement(Quantities.Ph.FromValue(ph), TitratableAcidity.FromGramsPerLiter(values.Of(Acidity), AcidBasis.Tartaric), values.Alcohol(Alcohol));
        if (AcidBuffer.Fit(measured, values.Maybe(Drink) ?? AcidProfile.GrapeWine) is { } buffer)
        {
            if (values.Maybe(Drink) is null)
            {
                notices.Add(AcidFields.DrinkAssumed);
            }

            return SweetenedAcid.Of(buffer, values.Volume(Volume), after, sweetener, kilograms);
        }

        notices.Add(WorksheetNotice.Note("acid-contradicts", "pH and titratable acidity contradict each other: one of them is wrong, so the pH afterwards is not told."));
        return null;
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
