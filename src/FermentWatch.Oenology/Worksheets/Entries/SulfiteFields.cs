using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A sulfite powder on the shelf.</summary>
internal enum ShelfSulfite
{
    Potassium,
    Sodium,
}

/// <summary>Fields that the worksheets of sulfite share, and what they say together.</summary>
internal static class SulfiteFields
{
    public static readonly NumberInput Volume = new("volume", "Volume", QuantityKind.Volume, 0.1, 10000, Help: "Measured today.");
    public static readonly NumberInput Ph = new("ph", "pH", QuantityKind.Ph, 2.5, 4.5);
    public static readonly NumberInput Free = new("free-sulfite", "Free sulfite, measured", QuantityKind.SmallDose, 0, 200, Help: "As sulfur dioxide. 0 when the test shows none; without a test use the sheet for that.");
    public static readonly NumberInput Total = new("total-sulfite", "Total sulfite so far", QuantityKind.SmallDose, 0, 500, Optional: true, Help: "Measured, or the sum of what was added.");
    public static readonly NumberInput Target = new("target-molecular", "Molecular sulfite wanted", QuantityKind.SmallDose, 0.2, 1.5, Usual: 0.8, Help: "0.5 for red wine, 0.8 for white and sweet wine and mead.");
    public static readonly NumberInput Addition = new("addition", "Addition, as sulfur dioxide", QuantityKind.SmallDose, 1, 200);
    public static readonly NumberInput Strength = new("powder-strength", "What is left of the powder's strength", QuantityKind.Percent, 50, 100, Usual: 100, Help: "Old powder is weaker: 90 after a year opened is a fair guess (common practice, no source).");
    public static readonly NumberInput Sugar = new("sugar", "Sugar left, measured", QuantityKind.SugarConcentration, 0, 400, Optional: true);

    public static readonly ChoiceInput<ShelfSulfite> Salt = new(
        "salt",
        "Powder",
        [(ShelfSulfite.Potassium, "Potassium metabisulfite"), (ShelfSulfite.Sodium, "Sodium metabisulfite")],
        ShelfSulfite.Potassium);

    public static readonly ChoiceInput<WineColor> Color = new(
        "color",
        "Color",
        [(WineColor.Unknown, "Not said: the stricter limit"), (WineColor.Red, "Red"), (WineColor.WhiteOrRose, "White or rosé, mead, cider")],
        WineColor.Unknown);

    public static readonly NumberOutput FirstAddition = new("addition-first", "Add first, as sulfur dioxide", QuantityKind.SmallDose, 0);
    public static readonly NumberOutput MostAddition = new("addition-most", "At most in all, as sulfur dioxide", QuantityKind.SmallDose, 0);
    public static readonly NumberOutput FirstPowder = new("powder-first", "Powder first", QuantityKind.Mass, 2);
    public static readonly NumberOutput MostPowder = new("powder-most", "Powder at most in all", QuantityKind.Mass, 2);
    public static readonly NumberOutput FirstStock = new("stock-first", "or 10 % stock solution first", QuantityKind.SmallVolume, 1);
    public static readonly NumberOutput TotalAfter = new("total-after", "Total sulfite after the first addition", QuantityKind.SmallDose, 0);
    public static readonly NumberOutput Limit = new("total-limit", "Limit of total sulfite", QuantityKind.SmallDose, 0);

    public static IReadOnlyList<WorksheetOutput> AdditionOutputs { get; } = [FirstAddition, MostAddition, FirstPowder, MostPowder, FirstStock, TotalAfter, Limit];

    public static IReadOnlyList<WorksheetSource> LimitSources { get; } =
    [
        WorksheetSource.Published("CFR4.22", "limit and label, United States"),
        WorksheetSource.Published("EU2019934", "limit, European Union"),
        WorksheetSource.FromMemory("limit of OIV: 150 red, 200 white, 300 mg/L above 4 g/L of sugar"),
    ];

    /// <summary>The powder with its strength.</summary>
    public static SulfiteSalt Powder(WorksheetValues values) =>
        (values.Of(Salt) is ShelfSulfite.Sodium ? SulfiteSalt.Sodium : SulfiteSalt.Potassium).WithStrength(values.Of(Strength) / 100);

    /// <summary>Limit of the total for what was chosen.</summary>
    public static MassConcentration LimitFor(WorksheetValues values) => SulfiteLimits.Total(values.Of(LawField.Input), values.Of(Color), values.Maybe(Sugar));

    /// <summary>An addition from a range, held against the limit: a refusal when already its first part is beyond.</summary>
    public static WorksheetAnswer Answer(WorksheetValues values, SulfiteAddition addition, IReadOnlyList<WorksheetResult> before, IReadOnlyList<WorksheetNotice> notices)
    {
        var limit = LimitFor(values);
        var total = values.Maybe(Total);
        var first = (total ?? 0) + addition.Least.MilligramsPerLiter;
        var context = new DoseContext(MassConcentration.FromMilligramsPerLiter(total ?? 0), values.Of(Color), values.Maybe(Sugar));
        var assessed = GuardRails.Assess(Additive.SulfurDioxide, addition.Least, values.Of(LawField.Input), context);
        if (assessed.IsRefused && addition.Least.MilligramsPerLiter > 0)
        {
            return WorksheetAnswer.Refuse("above-total-limit", $"{assessed.Words} Lower the pH first, or protect the wine another way.");
        }

        var (volume, powder) = (values.Volume(Volume), Powder(values));
        var results = new List<WorksheetResult>(before)
        {
            FirstAddition.Is(addition.Least.MilligramsPerLiter),
            MostAddition.Is(addition.Most.MilligramsPerLiter),
            FirstPowder.Is(powder.GramsFor(addition.Least, volume)),
            MostPowder.Is(powder.GramsFor(addition.Most, volume)),
            FirstStock.Is(SulfiteStock.MillilitersFor(addition.Least, volume, powder)),
        };
        var said = new List<WorksheetNotice>(notices);
        if (total is not null)
        {
            results.Add(TotalAfter.Is(first));
            if (total + addition.Most.MilligramsPerLiter > limit.MilligramsPerLiter)
            {
                said.Add(WorksheetNotice.Warning("near-total-limit", $"All of it would take the total above the limit of {limit.MilligramsPerLiter:F0} mg/L: stop before."));
            }
        }
        else
        {
            said.Add(WorksheetNotice.Note("total-unknown", "The total so far was not given, so it is not held against the limit: sum up what was added."));
        }

        results.Add(Limit.Is(limit.MilligramsPerLiter));
        if (SulfiteLimits.NeedsLabel(MassConcentration.FromMilligramsPerLiter(first)))
        {
            said.Add(WorksheetNotice.Note("label", "From 10 mg/L of total sulfite the label says: contains sulfites."));
        }

        return new WorksheetAnswer(results, said);
    }

    /// <summary>What a high pH or a high need of free sulfite means.</summary>
    public static IReadOnlyList<WorksheetNotice> PhNotices(double ph, double freeNeeded)
    {
        var notices = new List<WorksheetNotice>();
        if (ph > AcidRanges.BacteriaPh)
        {
            notices.Add(WorksheetNotice.Warning("acid-first", "Above pH 3.6 sulfite protects little: a coarse acid trial first, then sulfite at the new pH (common practice, no source)."));
        }

        if (freeNeeded > SulfiteLimits.FreeTasted.MilligramsPerLiter)
        {
            notices.Add(WorksheetNotice.Warning("tasted", $"{freeNeeded:F0} mg/L of free sulfite are tasted by many, who notice it from about 50 mg/L (common practice, no source)."));
        }

        return notices;
    }
}
