using FermentWatch.Oenology.Alcohol;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Alcohol that a must can give.</summary>
internal static class PotentialAlcoholEntry
{
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.000, 1.200);
    private static readonly NumberOutput Lowest = new("alcohol-least", "At least", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Agreed = new("alcohol-agreed", "By agreement, 16.83 g/L for each % vol", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Round = new("alcohol-round", "By the round figure of 17 g/L", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Highest = new("alcohol-most", "At most", QuantityKind.Alcohol, 1);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "potential-alcohol",
        Subject = WorksheetSubject.Gravity,
        Title = "Potential alcohol of a must",
        Purpose = "Alcohol if all sugar ferments: a range, as yeasts differ. About 12 g/L of the extract are no sugar and are taken off first.",
        Inputs = [Original],
        Outputs = [Lowest, Round, Agreed, Highest],
        Sources = [WorksheetSource.Published("WINETECH2020", "16.83 g/L by agreement"), WorksheetSource.Published("AWRIPotential", "16.5 to 18 g/L"), WorksheetSource.Published("CIVB", "17 g/L"), WorksheetSource.Published("Bubnik1995", "extract of the gravity")],
        Cautions = [],
        Examples = [WorkedExample.Of("original-gravity=20°P", "computed by hand: (216.2 - 12)/18, /17, /16.83, /16.5", new("alcohol-least", 11.34, 0.01), new("alcohol-round", 12.01, 0.01), new("alcohol-agreed", 12.13, 0.01), new("alcohol-most", 12.38, 0.01))],
        Compute = values =>
        {
            var potential = PotentialAlcohol.OfMust(values.Gravity(Original));
            var round = PotentialAlcohol.ByRoundFigure(PotentialAlcohol.SugarOfMust(values.Gravity(Original)));
            return WorksheetAnswer.Of(Lowest.Is(potential.Lowest.Percent, 0.7), Round.Is(round.Percent, 0.7), Agreed.Is(potential.Agreed.Percent, 0.7), Highest.Is(potential.Highest.Percent, 0.7));
        },
    };
}
