using System.Globalization;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tests.Acidity;

/// <summary>Reads what the acid tables hold.</summary>
internal static class AcidRows
{
    /// <summary>The acids with exactly the constants that the tables state: succinic 4.207 and 5.636.</summary>
    public static readonly WeakAcid StatedSuccinic = new("succinic", WeakAcid.Succinic.GramsPerMole, 4.207, 5.636);

    public static readonly AcidMixture WineA = AcidMixture.OfGramsPerLiter(
        (WeakAcid.Tartaric, 3), (WeakAcid.Malic, 2), (WeakAcid.Lactic, 0.5), (StatedSuccinic, 0.6), (WeakAcid.Citric, 0.3), (WeakAcid.Acetic, 0.3));

    public static readonly AcidMixture MeadG = AcidMixture.OfGramsPerLiter(
        (WeakAcid.Gluconic, 2.5), (WeakAcid.Citric, 0.1), (WeakAcid.Malic, 0.1), (StatedSuccinic, 0.6), (WeakAcid.Acetic, 0.2));

    /// <summary>Molar mass of potassium in the tables' compositions. [g/mol]</summary>
    public const double Potassium = 39.098;

    public static AcidMixture Mixture(ReferenceRow row, WeakAcid? succinic = null) => AcidMixture.OfGramsPerLiter([.. WeakAcid.All
        .Select(acid => (acid == WeakAcid.Succinic ? succinic ?? StatedSuccinic : acid, Number(row, acid.Code + "_g_per_L")))
        .Where(part => part.Item2 > 0)]);

    public static double Cation(ReferenceRow row) => Number(row, "potassium_mg_per_L") / 1000 / Potassium;

    public static double SolvedPh(ReferenceRow row, Solvent solvent, WeakAcid? succinic = null)
    {
        var citrate = Number(row, "potassium_dihydrogen_citrate_mol_per_kg");
        return citrate > 0
            ? ChargeBalance.PhOf(AcidMixture.OfGramsPerLiter((WeakAcid.Citric, citrate * WeakAcid.Citric.GramsPerMole)), citrate, solvent).Value.Value
            : ChargeBalance.PhOf(Mixture(row, succinic), Cation(row), solvent).Value.Value;
    }

    public static WeakAcid Named(string text) =>
        WeakAcid.All.Append(WeakAcid.Carbonic).Single(acid => text.Contains(acid.Code + " acid", StringComparison.Ordinal));

    public static TitratableAcidity Tartaric(double gramsPerLiter) => TitratableAcidity.FromGramsPerLiter(gramsPerLiter, AcidBasis.Tartaric);

    // Compositions of the alcoholic cases stand in brackets behind a sentence.
    private static double Number(ReferenceRow row, string name)
    {
        foreach (var (key, value) in row.Inputs)
        {
            if (key.Split('(')[^1] == name)
            {
                return double.Parse(value.TrimEnd(')'), NumberStyles.Float, CultureInfo.InvariantCulture);
            }
        }

        return 0;
    }
}
