using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Which pKa of sulfurous acid is used.</summary>
internal enum DissociationChoice
{
    Fixed,
    OivTable,
}

/// <summary>Molecular sulfite from free sulfite and pH, and the free that a target needs.</summary>
internal static class MolecularSulfite
{
    private static readonly NumberInput Free = new("free-sulfite", "Free sulfite, measured", QuantityKind.SmallDose, 0, 200, Optional: true, Help: "As sulfur dioxide.");
    private static readonly ChoiceInput<DissociationChoice> Choice = new(
        "dissociation",
        "pKa of sulfurous acid",
        [(DissociationChoice.Fixed, "1.81, as in printed tables"), (DissociationChoice.OivTable, "Table of OIV, 20 to 40 °C and 0 to 15 % vol")],
        DissociationChoice.Fixed,
        Help: "The table makes more of the free sulfite molecular, so it asks for less; it is never continued outside its range.");

    private static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 25, Optional: true, Help: "For the table of OIV.");
    private static readonly NumberInput TemperatureInput = new("temperature", "Temperature of the wine", QuantityKind.Temperature, 0, 45, Optional: true, Help: "For the table of OIV.");

    private static readonly NumberOutput Dissociation = new("dissociation-constant", "pKa used", QuantityKind.Ratio, 2);
    private static readonly NumberOutput InWater = new("dissociation-in-water", "pKa in water at this temperature, to compare", QuantityKind.Ratio, 2);
    private static readonly NumberOutput Share = new("molecular-share", "Share of the free that is molecular", QuantityKind.Percent, 1);
    private static readonly NumberOutput Molecular = new("molecular-sulfite", "Molecular sulfite", QuantityKind.SmallDose, 2);
    private static readonly NumberOutput Needed = new("free-needed", "Free sulfite needed", QuantityKind.SmallDose, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "molecular-sulfite",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Molecular sulfite and the free that is needed",
        Purpose = "Only the molecular part of free sulfite holds microbes, and there is less of it the higher the pH. Shown with the pKa used, because printed tables differ by it.",
        Inputs = [SulfiteFields.Ph, Free, SulfiteFields.Target, Choice, Alcohol, TemperatureInput],
        Outputs = [Dissociation, InWater, Share, Molecular, Needed],
        Sources =
        [
            WorksheetSource.Published("UCCE1982", "free sulfite for a molecular target, pKa 1.81"),
            WorksheetSource.Published("OIVAS32304C", "pKa by alcohol and temperature"),
            WorksheetSource.Published("PHREEQC", "pKa in water by thermodynamic data"),
        ],
        Cautions = [Caution.Sulfite, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("ph=3.3 target-molecular=0.8", "UC Cooperative Extension 1982 prints 26", new("free-needed", 26, 0.6), new("dissociation-constant", 1.81, 0)),
            WorkedExample.Of("ph=3.5 target-molecular=0.5 free-sulfite=25", "UC Cooperative Extension 1982 prints 25 mg/L and 2.0 %", new("free-needed", 25, 0.6), new("molecular-share", 2.0, 0.05), new("molecular-sulfite", 0.5, 0.01)),
            WorkedExample.Of("ph=3.3 dissociation=oiv-table alcohol=10 temperature=20", "OIV-MA-AS323-04C: pK 1.916 at ionic strength 0.038, from memory", new ExpectedResult("dissociation-constant", 1.916, 0.01)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var ph = Ph.FromValue(values.Of(SulfiteFields.Ph));
        var isOiv = values.Of(Choice) is DissociationChoice.OivTable;
        var dissociation = isOiv ? FromTable(values) : SulfurDioxideDissociation.Usual;
        var tolerance = isOiv ? (double?)null : SulfurDioxideDissociation.UsualTolerance;
        var needed = SulfurDioxide.FreeNeeded(MassConcentration.FromMilligramsPerLiter(values.Of(SulfiteFields.Target)), ph, dissociation);
        var results = new List<WorksheetResult>
        {
            Dissociation.Is(dissociation, tolerance),
            Share.Is(SulfurDioxide.MolecularShare(ph, dissociation) is var share ? 100 * share.Value.Value : 0, 100 * share.Tolerance, share.Validity),
            Needed.Is(needed, free => free.MilligramsPerLiter),
        };
        if (values.Maybe(TemperatureInput) is { } celsius)
        {
            results.Add(InWater.Is(SulfurDioxideDissociation.InWater(Temperature.FromCelsius(celsius)), value => value.Value));
        }

        var notices = new List<WorksheetNotice>(SulfiteFields.PhNotices(ph.Value, needed.Value.MilligramsPerLiter));
        if (values.Maybe(Free) is { } measured)
        {
            var molecular = SulfurDioxide.MolecularOf(MassConcentration.FromMilligramsPerLiter(measured), ph, dissociation);
            results.Add(Molecular.Is(molecular, value => value.MilligramsPerLiter));
            if (molecular.Value > SulfurDioxide.SensoryThreshold)
            {
                notices.Add(WorksheetNotice.Warning("stings", "More than 2 mg/L of molecular sulfite stings the nose."));
            }
        }

        if (isOiv)
        {
            notices.Add(WorksheetNotice.Note("two-families", $"Two families of data disagree about temperature: this table rises by 0.20 in {new Amount(5, "°C", QuantityKind.TemperatureDifference):0}, thermodynamic data by 0.05. The fixed 1.81 asks for more sulfite."));
        }

        return new WorksheetAnswer(results, notices);
    }

    private static double FromTable(WorksheetValues values)
    {
        var alcohol = values.Needed(Alcohol, "for the table of OIV");
        var celsius = values.Needed(TemperatureInput, "for the table of OIV");
        return alcohol > 15
            ? throw values.Wrong(Alcohol, "from 0 to 15 % vol for the table of OIV, which is never continued")
            : SulfurDioxideDissociation.Oiv(AlcoholByVolume.FromPercent(alcohol), Temperature.FromCelsius(celsius))
                ?? throw values.Wrong(TemperatureInput, "from 20 to 40 °C for the table of OIV, which is never continued; use the fixed pKa in a cooler cellar");
    }
}
