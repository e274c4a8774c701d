using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>A bench trial from planning to the chosen dose: a value that is stored as it is (<see cref="BenchTrialJson"/>).</summary>
/// <param name="Request">What it was planned from.</param>
/// <param name="Stocks">Stock solutions, in the order of the factors.</param>
/// <param name="Flights">Flights so far, with what was said.</param>
/// <param name="Free">The growing glass of a free trial; null for others.</param>
/// <param name="Held">When the jars are tasted; null for others.</param>
/// <param name="Chosen">What was chosen, or null.</param>
/// <param name="Version">Form of the stored value.</param>
public sealed record BenchTrial(
    TrialRequest Request,
    ImmutableArray<StockRecipe> Stocks,
    ImmutableArray<TrialFlight> Flights,
    FreeGlass? Free = null,
    HeldTrial? Held = null,
    ChosenDose? Chosen = null,
    int Version = BenchTrial.CurrentVersion)
{
    /// <summary>Form that this program writes.</summary>
    public const int CurrentVersion = 1;

    /// <summary>The flight that is tasted now.</summary>
    [JsonIgnore]
    public TrialFlight Current => Flights[^1];

    /// <summary>Doses of a glass with their additives, achieved and not planned.</summary>
    public ImmutableArray<AdditiveDose> DosesOf(TrialGlass glass)
    {
        ArgumentNullException.ThrowIfNull(glass);
        return WithAdditives(glass.AchievedGramsPerLiter);
    }

    /// <summary>Chosen doses with their additives, ready for <see cref="ScaleUp.Plan(ScaleUpRequest, PhModel?)"/>; empty when nothing is chosen, or the control.</summary>
    [JsonIgnore]
    public ImmutableArray<AdditiveDose> ChosenDoses => Chosen is { } chosen ? WithAdditives(chosen.GramsPerLiter) : [];

    /// <summary>What the free glass should measure now; null for other trials. Water of a stock made in water is left out.</summary>
    public GlassPrediction? PredictFree() =>
        Free is { } free ? GlassPrediction.Of(Request.Wine, WithAdditives(free.States(Stocks)[^1].GramsPerLiter), 0, Ph) : null;

    private PhModel? Ph => Request.Acids is { } acids ? TrialPh.For(acids) : null;

    private ImmutableArray<AdditiveDose> WithAdditives(ImmutableArray<double> gramsPerLiter) =>
        [.. Request.Factors.Select((factor, index) => new AdditiveDose(factor.Additive, gramsPerLiter[index])).Where(dose => dose.GramsPerLiter > 0)];

    /// <summary>What a glass should measure; pH when the request says which acids the drink holds.</summary>
    /// <param name="glass">A glass of this trial.</param>
    public GlassPrediction Predict(TrialGlass glass)
    {
        ArgumentNullException.ThrowIfNull(glass);
        var mixed = glass.Mix ?? Flights.SelectMany(flight => flight.Glasses).First(other => other.Code == glass.SameAs).Mix!;
        var water = mixed.Pours.Zip(Stocks, (pour, stock) => stock.Liquid is StockLiquid.Water
            ? pour.TopUpMilliliters.Taken + (pour.Milliliters * stock.GramsPerMilliliter * (1 - stock.ProductMassFraction) / StockPlanning.LiquidDensity(Request.Wine, StockLiquid.Water))
            : 0).Sum();
        return GlassPrediction.Of(Request.Wine, DosesOf(glass), water / mixed.TotalMilliliters, Ph);
    }

    /// <summary>With one score more; a second one by the same taster for the same code takes the place of the first.</summary>
    /// <exception cref="ArgumentException">No such taster or code, or a liking outside 1 to 9.</exception>
    public BenchTrial WithScore(GlassScore score)
    {
        ArgumentNullException.ThrowIfNull(score);
        if (!Request.Tasters.Contains(score.Taster))
        {
            throw new ArgumentException($"{score.Taster} is not a taster of this trial; it has {string.Join(", ", Request.Tasters)}.", nameof(score));
        }

        if (score.Liking is < GlassScore.LowestLiking or > GlassScore.HighestLiking)
        {
            throw new ArgumentException($"liking is {score.Liking}; it must be from {GlassScore.LowestLiking} to {GlassScore.HighestLiking}.", nameof(score));
        }

        var flight = Flights.FirstOrDefault(flight => flight.Find(score.Code) is not null)
            ?? throw new ArgumentException($"{score.Code} is not a code of this trial.", nameof(score));
        var scores = flight.Scores.RemoveAll(other => other.Taster == score.Taster && other.Code == score.Code).Add(score);
        return this with { Flights = Flights.Replace(flight, flight with { Scores = scores }) };
    }

    /// <summary>With the order in which a taster likes the glasses of a flight; it takes the place of the same taster's order before.</summary>
    /// <exception cref="ArgumentException">No such taster, or not every code of one flight exactly once.</exception>
    public BenchTrial WithRanking(GlassRanking ranking)
    {
        ArgumentNullException.ThrowIfNull(ranking);
        if (!Request.Tasters.Contains(ranking.Taster))
        {
            throw new ArgumentException($"{ranking.Taster} is not a taster of this trial; it has {string.Join(", ", Request.Tasters)}.", nameof(ranking));
        }

        var flight = Flights.FirstOrDefault(flight => flight.Glasses.Select(glass => glass.Code).Order(StringComparer.Ordinal).SequenceEqual(ranking.Codes.Order(StringComparer.Ordinal)))
            ?? throw new ArgumentException($"The order is {string.Join(", ", ranking.Codes)}; it must hold every code of one flight once.", nameof(ranking));
        return this with { Flights = Flights.Replace(flight, flight with { Orders = flight.Rankings.RemoveAll(other => other.Taster == ranking.Taster).Add(ranking) }) };
    }

    /// <summary>With one line more in the ledger of the free glass.</summary>
    /// <exception cref="InvalidOperationException">Not a free trial.</exception>
    public BenchTrial WithEntry(FreeGlassEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        return this with { Free = (Free ?? throw new InvalidOperationException("Only a free trial has a ledger.")).With(entry, Stocks) };
    }

    /// <summary>With the glass of this code chosen.</summary>
    /// <exception cref="ArgumentException">No such code.</exception>
    public BenchTrial Choose(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        var glass = Flights.Select(flight => flight.Find(code)).FirstOrDefault(found => found is not null)
            ?? throw new ArgumentException($"{code} is not a code of this trial.", nameof(code));
        return this with { Chosen = new ChosenDose(code, glass.AchievedGramsPerLiter) };
    }

    /// <summary>With the free glass as it is now chosen.</summary>
    /// <exception cref="InvalidOperationException">Not a free trial.</exception>
    public BenchTrial ChooseFreeGlass() =>
        this with { Chosen = new ChosenDose(null, (Free ?? throw new InvalidOperationException("Only a free trial has a growing glass.")).States(Stocks)[^1].GramsPerLiter) };
}

/// <summary>What was chosen.</summary>
/// <param name="Code">Code of the glass; null for a free glass.</param>
/// <param name="GramsPerLiter">Achieved doses in the order of the factors. [g/L]</param>
public sealed record ChosenDose(string? Code, ImmutableArray<double> GramsPerLiter);
