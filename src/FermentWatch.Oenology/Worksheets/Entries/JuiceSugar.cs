using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Must;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A fruit whose juice has a usual strength.</summary>
internal enum Fruit
{
    Apple,
    Apricot,
    BlackCurrant,
    Blackberry,
    Blueberry,
    Cranberry,
    Elderberry,
    Gooseberry,
    Grape,
    Grapefruit,
    Mango,
    Orange,
    Peach,
    Pear,
    Pineapple,
    Plum,
    Pomegranate,
    Quince,
    Raspberry,
    RedCurrant,
    Rhubarb,
    SourCherry,
    Strawberry,
    SweetCherry,
}

/// <summary>What juice of a fruit usually brings.</summary>
internal static class JuiceSugar
{
    private static readonly ChoiceInput<Fruit> Kind = new("fruit", "Fruit", [
        (Fruit.Apple, "Apple"), (Fruit.Apricot, "Apricot"), (Fruit.BlackCurrant, "Black currant"), (Fruit.Blackberry, "Blackberry"),
        (Fruit.Blueberry, "Blueberry"), (Fruit.Cranberry, "Cranberry"), (Fruit.Elderberry, "Elderberry"), (Fruit.Gooseberry, "Gooseberry"),
        (Fruit.Grape, "Grape"), (Fruit.Grapefruit, "Grapefruit"), (Fruit.Mango, "Mango"), (Fruit.Orange, "Orange"), (Fruit.Peach, "Peach"),
        (Fruit.Pear, "Pear"), (Fruit.Pineapple, "Pineapple"), (Fruit.Plum, "Plum"), (Fruit.Pomegranate, "Pomegranate"), (Fruit.Quince, "Quince"),
        (Fruit.Raspberry, "Raspberry"), (Fruit.RedCurrant, "Red currant"), (Fruit.Rhubarb, "Rhubarb"), (Fruit.SourCherry, "Sour cherry"),
        (Fruit.Strawberry, "Strawberry"), (Fruit.SweetCherry, "Sweet cherry")]);

    private static readonly NumberOutput Extract = new("juice-brix", "Usual extract", QuantityKind.Extract20, 1);
    private static readonly NumberOutput Gravity = new("juice-gravity", "Gravity", QuantityKind.Gravity, 3);
    private static readonly NumberOutput Sugar = new("juice-sugar", "Extract in a liter", QuantityKind.SugarConcentration, 0);
    private static readonly NumberOutput Alcohol = new("alcohol-agreed", "Alcohol from the juice alone", QuantityKind.Alcohol, 1);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "juice-sugar",
        Subject = WorksheetSubject.Must,
        Title = "Usual sugar of a juice",
        Purpose = "A first guess for planning a must of fruit, from memory of the strengths that the trade refers to. Real fruit differs by 20 to 30 %: press some and measure.",
        Inputs = [Kind],
        Outputs = [Extract, Gravity, Sugar, Alcohol],
        Sources = [WorksheetSource.FromMemory("21 CFR 101.30(h)(1), strengths of 100 % juice"), WorksheetSource.Published("Bubnik1995", "density of sucrose solutions"), WorksheetSource.Published("WINETECH2020", "16.83 g/L for each % vol")],
        Cautions = [],
        Examples = [WorkedExample.Of("fruit=apple", "from memory, 21 CFR 101.30: 11.5 °Bx", new("juice-brix", 11.5, 0.05), new("juice-gravity", 1.046, 0.001))],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var brix = Of(values.Of(Kind)).Brix;
        var gravity = SucroseSolution.GravityOf(Plato.FromDegrees(brix)).Value;
        var sugar = SucroseSolution.GramsPerLiterOf(gravity).Value.GramsPerLiter;
        var alcohol = PotentialAlcohol.OfMust(gravity).Agreed.Percent;
        const double Error = JuiceStrength.RelativeError;
        return new WorksheetAnswer(
            [Extract.Is(brix, Error * brix), Gravity.Is(gravity.Value, Error * (gravity.Value - 1)), Sugar.Is(sugar, Error * sugar), Alcohol.Is(alcohol, (Error * alcohol) + 0.7)],
            [WorksheetNotice.Note("measure-juice", "Measure the juice before you reckon with it: ripeness, year and water decide.")]);
    }

    /// <summary>The strength of a fruit of the list.</summary>
    public static JuiceStrength Of(Fruit fruit) => JuiceStrength.All[(int)fruit];
}
