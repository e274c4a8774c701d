using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Heat of a ferment.</summary>
internal static class FermentHeat
{
    private static readonly NumberInput Volume = new("volume", "Volume of must", QuantityKind.Volume, 0.5, 10_000);
    private static readonly NumberInput Sugar = new("sugar-fermented", "Sugar that ferments", QuantityKind.SugarConcentration, 1, 400);
    private static readonly NumberInput Daily = new("sugar-fermented-daily", "Most sugar fermented in a day", QuantityKind.SugarConcentration, 1, 200, 20);

    private static readonly NumberOutput Rise = new("temperature-rise", "Rise if no heat left the vessel", QuantityKind.TemperatureDifference, 0);
    private static readonly TextOutput Power = new("heat", "Heat at the height of it");

    public static Worksheet Sheet { get; } = new()
    {
        Name = "fermentation-heat",
        Subject = WorksheetSubject.Nutrients,
        Title = "Heat of the ferment",
        Purpose = "How far a must would warm if it lost no heat. Small vessels lose most of it; yeast dies within hours above about 34 °C.",
        Inputs = [Volume, Sugar, Daily],
        Outputs = [Rise, Power],
        Sources = [WorksheetSource.Published("Colombie2007", "24 kcal for each mol of hexose, as others cite it"), WorksheetSource.FromMemory("heat capacity 3.9 kJ for each liter and kelvin")],
        Cautions = [Caution.CarbonDioxide],
        Examples = [WorkedExample.Of("volume=20 sugar-fermented=100", "computed by hand: 0.557 x 100 / 3.9", new("temperature-rise", 14.29, 0.05), ExpectedResult.Words("heat", "about 3 W"))],
        Compute = values => WorksheetAnswer.Of(
            Rise.Is(FermentationHeat.RiseKelvin(SugarConcentration.FromGramsPerLiter(values.Of(Sugar))), kelvin => kelvin),
            Power.Is($"about {FermentationHeat.Watts(SugarConcentration.FromGramsPerLiter(values.Of(Daily)), values.Volume(Volume)):0} W")),
    };
}
