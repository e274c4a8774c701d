using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sorbate;

/// <summary>Dose of potassium sorbate by alcohol and pH.</summary>
public static class SorbateTable
{
    /// <summary>Least alcohol of the table. [% vol]</summary>
    public const double LowestAlcoholPercent = 10;

    /// <summary>Most alcohol of the table. [% vol]</summary>
    public const double HighestAlcoholPercent = 14;

    /// <summary>Lowest pH of the table.</summary>
    public const double LowestPh = 3.1;

    /// <summary>Highest pH of the table.</summary>
    public const double HighestPh = 3.5;

    // Rows 10 to 14 % vol, columns pH 3.1 to 3.5; mg/L.
    private static readonly double[,] Table =
    {
        { 165, 180, 210, 240, 270 },
        { 135, 150, 180, 210, 225 },
        { 96, 105, 120, 135, 150 },
        { 78, 90, 96, 105, 120 },
        { 60, 66, 72, 81, 90 },
    };

    /// <summary>Potassium sorbate that keeps yeast from multiplying again. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The table, linear between its points: 60 to 270 mg/L.</para>
    /// <para><b>Valid.</b> 10 to 14 % vol and pH 3.1 to 3.5. Outside null, never the nearest value: with less alcohol or a higher pH no
    /// dose of sorbate is known to hold, and with more alcohol or a lower pH the table says nothing.</para>
    /// <para><b>Error.</b> 3 mg/L of rounding at the points. How sure the dose is depends on clarity and free sulfite: not known.</para>
    /// <para><b>Source.</b> [Underhill], read as an extract. <b>Check.</b> SorbateTests.</para>
    /// </remarks>
    public static Computed<MassConcentration>? DoseFor(AlcoholByVolume alcohol, Ph ph)
    {
        if (alcohol.Percent is < LowestAlcoholPercent or > HighestAlcoholPercent || ph.Value is < LowestPh or > HighestPh)
        {
            return null;
        }

        var (row, down) = Place(alcohol.Percent - LowestAlcoholPercent);
        var (column, across) = Place((ph.Value - LowestPh) / 0.1);
        var low = Table[row, column] + (across * (Table[row, column + 1] - Table[row, column]));
        var high = Table[row + 1, column] + (across * (Table[row + 1, column + 1] - Table[row + 1, column]));
        return new(MassConcentration.FromMilligramsPerLiter(low + (down * (high - low))), 3, Validity.WithinSource);
    }

    private static (int Index, double Share) Place(double at)
    {
        var index = Math.Clamp((int)Math.Floor(at), 0, 3);
        return (index, Math.Clamp(at - index, 0, 1));
    }
}
