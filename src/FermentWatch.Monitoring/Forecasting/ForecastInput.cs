using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>All that a forecast or a phase may stand on: nothing else is looked at, so equal inputs give equal results.</summary>
/// <remarks>Points may come in any order. Those before the inoculation or after <see cref="AsOf"/> are not used.</remarks>
/// <param name="Kind">Wine, mead or cider: it chooses the prior.</param>
/// <param name="InoculatedAt">When the yeast went in.</param>
/// <param name="OriginalGravity">Gravity before fermentation as told by the maker, or null.</param>
/// <param name="Tolerance">Alcohol tolerance of the yeast as its packet states it, or null.</param>
/// <param name="Gravity">Cleaned gravity in bins, at most about 1,000.</param>
/// <param name="Temperature">Temperature of the liquid in bins; may be empty (20 °C is then assumed).</param>
/// <param name="Events">What happened: additions of sugar restart the curve, nutrients widen the forecast.</param>
/// <param name="Prior">What is assumed before any reading.</param>
/// <param name="AsOf">The moment for which the result stands.</param>
public sealed record ForecastInput(
    FermentKind Kind,
    EventTime InoculatedAt,
    SpecificGravity? OriginalGravity,
    AlcoholByVolume? Tolerance,
    ValueList<GravityPoint> Gravity,
    ValueList<TemperaturePoint> Temperature,
    ValueList<TimelineEvent> Events,
    PriorSnapshot Prior,
    EventTime AsOf)
{
    /// <summary>Whether the newest gravity is read by hand, days apart: the phase then stands on few readings.</summary>
    public bool ByHand { get; init; }

    /// <summary>When gravity was last measured by hand, with a value that was kept; null for never.</summary>
    public EventTime? MeasuredByHandAt { get; init; }

    /// <summary>The last forced fermentation test of this batch, or null.</summary>
    public ForcedTest? Forced { get; init; }
}
