using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>When a ferment ended is a forecast that sways: a duty that was told for it neither ends nor comes back with every change of it.</summary>
public sealed class CareDueSwayTests
{
    private static readonly EventTime Start = EventTime.From(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));
    private static readonly BatchView View = BatchViews.Of("damson", "Damson", null, [], [], [], AlertSettings.Default, Start + TimeSpan.FromDays(40)) with
    {
        Stage = new StageSpan(BatchStage.Fermenting, Start, null),
        Stop = new StopAssessment(1, 0.05, 0.95, StopCause.None, true),
    };

    [Theory]
    [InlineData(0.95, false, true)]
    [InlineData(0.7, false, true)]
    [InlineData(0.3, false, false)]
    [InlineData(0.95, true, false)]
    public void LeesThatWereTold_StayDueUntilRackedOrPlainlyFermenting(double finished, bool isRacked, bool stands)
    {
        var alert = new TrackedAlert(
            "damson/care-due/lees/1", CareDueRule.Id, "lees", Severity.Action, Start + TimeSpan.FromDays(38), Start + TimeSpan.FromDays(38), null, AlertStanding.Raised,
            AlertStanding.Raised, new ReceivedAt((Start + TimeSpan.FromDays(38)).UnixMicroseconds), TimeSpan.Zero, 1, 0, null, "damson/care-due/lees/1", Reason.Of("care-due-lees"));
        var view = View with { Stop = View.Stop with { Finished = finished } };
        if (isRacked)
        {
            view = view with { Journal = ValueList.Of(new JournalEntry(1, JournalKind.Racked, Start + TimeSpan.FromDays(39), "", null, null, false)) };
        }

        // No forecast says any more that it is over: taken alone, nothing would be due.
        var result = CareDueRule.Rule.OnTicks!(AlertSet.Empty with { Alerts = ValueList.Of(alert) }, view, AlertSettings.Default, new Pass(new ReceivedAt(view.Now.UnixMicroseconds), TimeSpan.Zero, TimeZoneInfo.Utc));

        Assert.Equal(stands, result.Standing.Any(episode => episode.Subject == "lees"));
        Assert.Equal(!stands, result.Ended.ContainsKey("lees"));
    }
}
