using System.Diagnostics.CodeAnalysis;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Keeps out numbers that cannot be what the mapping says, and names the units that they would fit.</summary>
internal static class Plausibility
{
    public static bool TryAccept(double raw, MeasurementUnit unit, [NotNullWhen(false)] out Reason? why)
    {
        why = null;
        if (UnitConversion.IsPlausible(raw, unit))
        {
            return true;
        }

        var values = new List<ReasonValue>
        {
            new ReasonValue.Measured(raw, unit),
            new ReasonValue.Measured(UnitConversion.LowestPlausible(unit), unit),
            new ReasonValue.Measured(UnitConversion.HighestPlausible(unit), unit),
        };
        foreach (var other in UnitConversion.UnitsOf(UnitConversion.QuantityOf(unit)))
        {
            if (UnitConversion.IsPlausible(raw, other))
            {
                values.Add(new ReasonValue.Measured(raw, other));
            }
        }

        var code = (values.Count - 3) switch
        {
            0 => DecodeReasons.ValueImplausible,
            1 => DecodeReasons.ValueFitsOtherUnit,
            2 => DecodeReasons.ValueFitsTwoUnits,
            3 => DecodeReasons.ValueFitsThreeUnits,
            _ => DecodeReasons.ValueFitsFourUnits,
        };
        why = new Reason(code, ValueList.Of<ReasonValue>(values));
        return false;
    }
}
