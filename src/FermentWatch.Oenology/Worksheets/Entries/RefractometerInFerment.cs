using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A refractometer once alcohol is there.</summary>
internal static class RefractometerInFerment
{
    private static readonly NumberInput Shown = new("refractometer", "Refractometer, at 20 °C", QuantityKind.Extract20, 0, 45, Help: "Filtered and degassed.");
    private static readonly NumberInput Original = new("original-gravity", "Original gravity", QuantityKind.Gravity, 1.020, 1.175, Optional: true, Help: "One of original gravity and gravity now is needed.");
    private static readonly NumberInput Present = new("present-gravity", "Gravity now by hydrometer", QuantityKind.Gravity, 0.970, 1.175, Optional: true, Help: "With it no original gravity is needed.");
    private static readonly NumberOutput Gravity = new("gravity", "Gravity now", QuantityKind.Gravity, 3);
    private static readonly NumberOutput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 1);
    private static readonly NumberOutput Extract = new("dry-extract", "Total dry extract", QuantityKind.SugarConcentration, 0);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "refractometer-in-ferment",
        Subject = WorksheetSubject.Gravity,
        Title = "Refractometer with alcohol present",
        Purpose = "Alcohol bends light too, so Brix is no sugar once fermentation has begun: a dry wine of 12 % vol shows about 6.2. Gravity and alcohol from the reading and either the original gravity or a hydrometer.",
        Inputs = [Shown, Original, Present],
        Outputs = [Gravity, Alcohol, Extract],
        Sources = [WorksheetSource.Published("CRC102", "refractive index of sucrose and of ethanol solutions"), WorksheetSource.Published("OIMLR22", "density of ethanol and water"), WorksheetSource.Published("Rogerson2006", "measured relation for fortified wine, met within 0.5 % vol")],
        Cautions = [Caution.SteadyHydrometer],
        Examples =
        [
            WorkedExample.Of("refractometer=6.23 present-gravity=0.9919", "table values of a second program: 12 % vol, 20 g/L", new("alcohol", 12, 0.3), new("dry-extract", 20, 1.5)),
            WorkedExample.Saying("refractometer=30 original-gravity=1.090", "more than the must had", "reading-outside"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var outside = WorksheetNotice.Warning("reading-outside", "No ferment gives these readings together: check the instruments, the temperature and whether sugar was added.");
        if (values.Maybe(Present) is not null)
        {
            var (alcohol, extract) = Refractometer.WithHydrometer(values.Gravity(Present), values.Of(Shown));
            return new([Alcohol.Is(alcohol, strength => strength.Percent), Extract.Is(extract, sugar => sugar.GramsPerLiter)], alcohol.Validity is Quantities.Validity.Extrapolated ? [outside] : []);
        }

        values.Needed(Original, "because no gravity of now is given");
        var (present, formed) = Refractometer.Of(values.Gravity(Original), values.Of(Shown));
        return new([Gravity.Is(present, gravity => gravity.Value), Alcohol.Is(formed, strength => strength.Percent)], present.Validity is Quantities.Validity.Extrapolated ? [outside] : []);
    }
}
