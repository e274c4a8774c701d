using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sorbate;
using FermentWatch.Oenology.Sulfite;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Limits;

/// <summary>The guard rails of every additive, in one explicit list. A new one is one member of <see cref="Additive"/> and one row here.</summary>
public static class AdditiveRules
{
    /// <summary>Every additive's rule.</summary>
    public static IReadOnlyList<AdditiveRule> All { get; } =
    [
        new(
            Additive.SulfurDioxide,
            "total sulfur dioxide",
            new(Law.Eu, Milligrams(150), WorksheetSource.Published("EU2032012", "Regulation (EU) 203/2012, organic white wine")),
            context => [.. new[] { Law.Us, Law.Eu, Law.Oiv }.Select(law => new AdditiveLimit(law, SulfiteLimits.Total(law, context.Color, context.SugarGramsPerLiter), SulfiteSource(law)))]),
        new(
            Additive.SorbicAcid,
            "sorbic acid",
            new(Law.Strictest, Milligrams(135), WorksheetSource.Published("Cook2014", "University of Minnesota, tasted by some from here")),
            _ =>
            [
                new(Law.Us, SorbateAdvice.SorbicAcidLimit(Law.Us), WorksheetSource.Published("CFR24.246", "27 CFR 24.246")),
                new(Law.Eu, SorbateAdvice.SorbicAcidLimit(Law.Eu), WorksheetSource.Published("EU2019934", "Regulation (EU) 2019/934")),
                new(Law.Oiv, SorbateAdvice.SorbicAcidLimit(Law.Oiv), WorksheetSource.Published("OIVII345", "OIV Code II.3.4.5")),
            ]),
        new(
            Additive.Acid,
            "acid, as tartaric",
            Practice(2, "try more than 1 g/L on a sample first"),
            _ => [new(Law.Oiv, Grams(4), WorksheetSource.Published("OIVA1", "OIV Code annex A.1, 54 meq/L for must"))]),
        new(
            Additive.CitricAcid,
            "citric acid, that of the fruit counted in",
            Practice(0.5, "malolactic bacteria turn citric acid into acetic acid and diacetyl"),
            _ => [new(Law.Oiv, Grams(1), WorksheetSource.Published("OIVC101", "OIV MA-C1-01"))]),
        new(
            Additive.AscorbicAcid,
            "ascorbic acid",
            Practice(0.1, "only with free sulfite beside it"),
            _ => [new(Law.Oiv, Milligrams(250), WorksheetSource.Published("OIVA1", "OIV Code annex A.1"))]),
        new(Additive.PotassiumBicarbonate, "potassium bicarbonate", Practice(2, string.Empty), _ => [Practice(4, "a wine that needs more is blended or diluted")]),
        new(Additive.CalciumCarbonate, "calcium carbonate", Practice(1, "more leaves a chalky taste"), _ => [Practice(3, "a wine that needs more is blended or diluted")]),
        new(
            Additive.DiammoniumPhosphate,
            "diammonium phosphate",
            new(Law.Oiv, Grams(0.3), WorksheetSource.Published("OIVA1", "OIV Code annex A.1")),
            _ =>
            [
                new(Law.Us, Grams(0.96), WorksheetSource.FromMemory("27 CFR 24.246, 8 lb for 1000 gal")),
                new(Law.Eu, Grams(1), WorksheetSource.FromMemory("Regulation (EU) 2019/934")),
                new(Law.Oiv, Grams(0.3), WorksheetSource.Published("OIVA1", "OIV Code annex A.1")),
            ]),
        new(Additive.AmmoniumSulfate, "ammonium sulfate", null, _ => [new(Law.Oiv, Grams(0.3), WorksheetSource.Published("OIVA1", "OIV Code annex A.1"))]),
        new(Additive.DryYeast, "dry yeast", Practice(0.5, "0.2 to 0.5 g/L; twice that for a restart"), _ => []),
        new(
            Additive.TanninPowder,
            "tannin powder",
            new(Law.Strictest, Milligrams(300), WorksheetSource.Published("DowneyHarbertson", "Downey and Harbertson, 50 to 300 mg/L")),
            context => [new(Law.Us, Grams(context.Color is WineColor.Red ? 3 : 0.8), WorksheetSource.FromMemory("27 CFR 24.246, tannin that stays, as gallic acid"))]),
        new(Additive.OakChips, "oak chips", Practice(4, "2 to 4 g/L, tasted weekly"), _ => []),
        new(Additive.Bentonite, "bentonite", Practice(1, string.Empty), _ => []),
        new(
            Additive.Copper,
            "copper",
            new(Law.Us, Milligrams(0.2), WorksheetSource.Published("CFR24.246", "27 CFR 24.246, older edition, what may stay; copper is for experts with a measured trial")),
            _ =>
            [
                new(Law.Us, Milligrams(0.5), WorksheetSource.Published("CFR24.246", "27 CFR 24.246, older edition")),
                new(Law.Oiv, Milligrams(1), WorksheetSource.Published("OIVC101", "OIV MA-C1-01")),
            ]),
    ];

    /// <summary>The rule of an additive.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a member of the enumeration.</exception>
    public static AdditiveRule Of(Additive additive) => All.FirstOrDefault(rule => rule.Additive == additive)
        ?? throw new ArgumentOutOfRangeException(nameof(additive), additive, "There is no such additive.");

    private static WorksheetSource SulfiteSource(Law law) => law switch
    {
        Law.Us => WorksheetSource.Published("CFR4.22", "27 CFR 4.22(b)(1)"),
        Law.Eu => WorksheetSource.Published("EU2019934", "Regulation (EU) 2019/934, Annex I part B"),
        _ => WorksheetSource.FromMemory("OIV MA-C1-01"),
    };

    private static AdditiveLimit Practice(double gramsPerLiter, string because) => new(Law.Strictest, Grams(gramsPerLiter), WorksheetSource.CommonPractice(because));

    private static MassConcentration Grams(double perLiter) => MassConcentration.FromGramsPerLiter(perLiter);

    private static MassConcentration Milligrams(double perLiter) => MassConcentration.FromMilligramsPerLiter(perLiter);
}
