using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What a glass is there for.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<GlassRole>))]
public enum GlassRole
{
    /// <summary>The wine as it is, topped with as much liquid as the others.</summary>
    Control,

    /// <summary>A dose.</summary>
    Dose,

    /// <summary>A glass that comes twice, hidden under another code.</summary>
    Twin,
}

/// <summary>One code of a flight.</summary>
/// <param name="Code">Three digits.</param>
/// <param name="Role">What it is there for.</param>
/// <param name="DosesGramsPerLiter">Planned doses, in the order of the trial's factors. [g/L]</param>
/// <param name="AchievedGramsPerLiter">Doses from the rounded amounts: what is in the glass, and what the batch is computed from. [g/L]</param>
/// <param name="SameAs">For a twin the code whose mixing it is poured from; null for others.</param>
/// <param name="Mix">How it is mixed; null for a twin.</param>
public sealed record TrialGlass(
    string Code,
    GlassRole Role,
    ImmutableArray<double> DosesGramsPerLiter,
    ImmutableArray<double> AchievedGramsPerLiter,
    string? SameAs,
    GlassMix? Mix);

/// <summary>How one code is mixed.</summary>
/// <param name="TotalMilliliters">Finished volume; doubled when a twin is poured from it. [mL]</param>
/// <param name="WineMilliliters">Wine to begin with. [mL]</param>
/// <param name="Pours">Stock of each factor and what tops it up.</param>
public sealed record GlassMix(double TotalMilliliters, RoundedAmount WineMilliliters, ImmutableArray<StockPour> Pours);

/// <summary>Stock for one glass, and the liquid that brings the addition to the same volume in every glass.</summary>
/// <param name="AdditiveCode">What.</param>
/// <param name="Amount">Stock: grams by difference, or milliliters by the marks.</param>
/// <param name="Unit">"g" or "mL".</param>
/// <param name="Milliliters">The same as a volume. [mL]</param>
/// <param name="TopUpMilliliters">Liquid of the stock without additive, to the same added volume in each glass. [mL]</param>
/// <param name="TopUpWith">Which liquid.</param>
public sealed record StockPour(string AdditiveCode, RoundedAmount Amount, string Unit, double Milliliters, RoundedAmount TopUpMilliliters, StockLiquid TopUpWith);
