using System.Collections.Immutable;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What came of planning.</summary>
/// <param name="Trial">The trial; null when there is a fault or a refusal.</param>
/// <param name="Faults">What is wrong with the request.</param>
/// <param name="Notices">What must be said beside the plan; a refusal among them says why there is none.</param>
public sealed record PlannedTrial(BenchTrial? Trial, IReadOnlyList<InputFault> Faults, ImmutableArray<BenchNotice> Notices);

/// <summary>Plans trials and their flights.</summary>
public static class TrialPlanning
{
    /// <summary>Plans stock solutions and the first flight.</summary>
    public static PlannedTrial Plan(TrialRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var faults = TrialRequestCheck.Faults(request);
        if (faults.Count > 0)
        {
            return new(null, faults, []);
        }

        // A glass beyond an absolute limit is not offered: it could not become the batch.
        var notices = DoseLimits.Notices(DoseLimits.Assess(
            request.Wine,
            request.Factors.Select(factor => new AdditiveDose(factor.Additive, StockPlanning.Largest(request, factor))),
            request.Law)).ToList();
        if (notices.Any(notice => notice.Weight is NoticeWeight.Refusal))
        {
            return new(null, [], [.. notices]);
        }

        var stocks = request.Factors.Select(factor => StockPlanning.Plan(request, factor, notices)).ToList();
        if (stocks.Any(stock => stock is null))
        {
            return new(null, [], [.. notices]);
        }

        var isFree = request.Kind is TrialPlanKind.FreeGlass;
        var made = stocks.Select(stock => stock!).ToImmutableArray();
        var flight = FlightPlanning.Flight(isFree ? request with { WithTwin = false } : request, made, 1, isFree ? [] : FlightPlanning.Combinations(request), []);
        var trial = new BenchTrial(
            request,
            made,
            [flight],
            isFree ? new FreeGlass(request.GlassMilliliters, []) : null,
            request.Kind is TrialPlanKind.Held && request.StartsOn is { } day ? HeldTrial.FilledOn(day) : null);
        return new(trial, [], [.. notices, .. TrialNotices.Of(trial, flight)]);
    }

    /// <summary>Adds a flight with these doses of a trial with one factor, such as those that <see cref="NextGlass"/> names.</summary>
    /// <param name="trial">The trial.</param>
    /// <param name="dosesGramsPerLiter">Rising doses above none, at most four, none beyond the factor's largest.</param>
    /// <exception cref="ArgumentException">More than one factor, a free or held trial, or other doses.</exception>
    public static PlannedTrial AddFlight(BenchTrial trial, IReadOnlyList<double> dosesGramsPerLiter)
    {
        ArgumentNullException.ThrowIfNull(trial);
        ArgumentNullException.ThrowIfNull(dosesGramsPerLiter);
        var request = trial.Request;
        if (request.Factors.Length != 1 || request.Kind is TrialPlanKind.FreeGlass or TrialPlanKind.Held)
        {
            throw new ArgumentException("A flight is added to a ladder or a bracket of one additive; other trials are planned anew.", nameof(trial));
        }

        var largest = StockPlanning.Largest(request, request.Factors[0]) * 1.0001;
        if (dosesGramsPerLiter.Count is < 1 or > 4 || dosesGramsPerLiter.Any(dose => !(dose > 0 && dose <= largest)) || dosesGramsPerLiter.Zip(dosesGramsPerLiter.Skip(1)).Any(pair => !(pair.First < pair.Second)))
        {
            throw new ArgumentException($"The doses must be one to four, rising, above 0 and at most {largest:0.###} g/L.", nameof(dosesGramsPerLiter));
        }

        var taken = trial.Flights.SelectMany(flight => flight.Glasses).Select(glass => glass.Code);
        var flight = FlightPlanning.Flight(request, trial.Stocks, trial.Flights.Length + 1, [.. dosesGramsPerLiter.Select(dose => ImmutableArray.Create(dose))], taken);
        var grown = trial with { Flights = trial.Flights.Add(flight) };
        return new(grown, [], TrialNotices.Of(grown, flight));
    }
}
