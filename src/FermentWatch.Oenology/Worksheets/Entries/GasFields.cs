using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Fields that the worksheets of gas and bottles share.</summary>
internal static class GasFields
{
    public static readonly NumberInput Volume = new("volume", "Volume", QuantityKind.Volume, 0.1, 10000, Help: "Measured today.");
    public static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 25);
    public static readonly NumberInput Sugar = new("sugar", "Sugar that stays", QuantityKind.SugarConcentration, 0, 400, Usual: 0, Help: "Measured. It lowers what dissolves.");
    public static readonly NumberInput Coldest = new("temperature", "Coldest the wine lately was", QuantityKind.Temperature, -5, 40, Help: "Cold wine holds more gas.");
    public static readonly NumberInput Measured = new("carbon-dioxide", "Carbon dioxide in the wine, measured", QuantityKind.Dose, 0, 15, Optional: true, Help: "Leave empty when it was not measured.");
    public static readonly NumberInput Bottle = new("bottle-size", "Wine in a full bottle", QuantityKind.SmallVolume, 50, 30000, Usual: 750);
    public static readonly NumberInput Headspace = new("headspace", "Gas between wine and closure", QuantityKind.SmallVolume, 0, 3000, Usual: 22, Help: "In one bottle: about 22 mL in one of 750 mL.");

    public static readonly YesNoInput Degassed = new("degassed", "Degassed since it last fermented?", Usual: false, Help: "Without it the wine is taken as full of gas.");

    public static IReadOnlyList<WorksheetSource> Sources { get; } =
    [
        WorksheetSource.Published("OIVAS31401", "carbon dioxide dissolved at 20 °C by alcohol and sugar"),
        WorksheetSource.Published("LigerBelair2017", "its change with temperature, by sealed bottles"),
    ];

    /// <summary>Headspace over wine.</summary>
    public static double HeadspaceRatio(WorksheetValues values)
    {
        var (bottle, headspace) = (values.Of(Bottle), values.Of(Headspace));
        return headspace <= bottle / 2 ? headspace / bottle : throw values.Wrong(Headspace, "at most half of the wine in a bottle");
    }

    /// <summary>A bottle filled at 20 °C.</summary>
    public static ClosedBottle Closed(WorksheetValues values) =>
        new(HeadspaceRatio(values), Temperature.FromCelsius(20), values.Alcohol(Alcohol), SugarConcentration.FromGramsPerLiter(values.Of(Sugar)));

    /// <summary>What the wine holds at filling.</summary>
    public static Computed<MassConcentration> Start(WorksheetValues values, NumberInput temperature) => StartingGas.Of(
        values.Maybe(Measured) is { } grams ? MassConcentration.FromGramsPerLiter(grams) : null,
        values.Of(Degassed),
        values.Temperature(temperature),
        values.Alcohol(Alcohol),
        SugarConcentration.FromGramsPerLiter(values.Of(Sugar)));

    /// <summary>Says that a figure lies beyond what the formula was checked for.</summary>
    public static void NoteExtrapolated(ICollection<WorksheetNotice> notices, params IEnumerable<Validity> validities)
    {
        if (validities.Contains(Validity.Extrapolated))
        {
            notices.Add(WorksheetNotice.Warning("beyond-source", "Beyond what the formula was checked for (0 to 30 °C, up to 15 % vol, 150 g/L sugar and 8 bar): take the figures as a rough guide."));
        }
    }
}
