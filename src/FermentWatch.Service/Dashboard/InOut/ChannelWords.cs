using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>Says how a channel is.</summary>
internal static class ChannelWords
{
    /// <summary>What became of a test.</summary>
    public static string Of(ChannelTest test, Reader reader)
    {
        var at = reader.Moment(test.At);
        return test.Result switch
        {
            DeliveryResult.TryAgain again => InOutText.Of("channel-test-again", at, Why(again.Because, test.At, reader)),
            DeliveryResult.Refused refused => InOutText.Of("channel-test-refused", at, Why(refused.Because, test.At, reader)),
            DeliveryResult.Delivered { Remark: { } remark } => InOutText.Of("channel-test-but", at, Why(remark, test.At, reader)),
            _ => InOutText.Of("channel-test-ok", at),
        };
    }

    /// <summary>A line of the log: when, how often tried, and what became of it.</summary>
    public static string Line(OutboxRow row, Reader reader)
    {
        var at = reader.Moment((row.FinishedAt ?? row.CreatedAt).ToDateTimeOffset());
        return row.State switch
        {
            OutboxState.Sent => InOutText.Of("log-sent", at, row.Key, row.Attempts),
            OutboxState.GivenUp => InOutText.Of("log-given-up", at, row.Key, row.Attempts, Fault(row, reader)),
            OutboxState.Overtaken => InOutText.Of("log-overtaken", at, row.Key),
            _ => InOutText.Of("log-waiting", at, row.Key, row.Attempts, Fault(row, reader)),
        };
    }

    /// <summary>What became of the newest notice.</summary>
    public static string Last(OutboxRow? row, Reader reader)
    {
        if (row is null)
        {
            return InOutText.Of("channel-last-none");
        }

        var created = reader.Moment(row.CreatedAt.ToDateTimeOffset());
        var fault = Fault(row, reader);
        return row.State switch
        {
            OutboxState.Sent => InOutText.Of("channel-last-sent", reader.Moment((row.FinishedAt ?? row.CreatedAt).ToDateTimeOffset())),
            OutboxState.GivenUp => InOutText.Of("channel-last-given-up", created, row.Attempts, fault),
            OutboxState.Overtaken => InOutText.Of("channel-last-overtaken", created),
            _ => InOutText.Of("channel-last-waiting", created, row.Attempts + 1, fault),
        };
    }

    private static string Fault(OutboxRow row, Reader reader) =>
        row.LastError is { } code && NoticeText.Knows(code) ? NoticeText.Of(Reason.Of(code, Blanks(code)), reader, row.CreatedAt) : row.LastError ?? "";

    // The outbox keeps the code alone: its numbers are gone.
    private static ReasonValue[] Blanks(string code) => code.Length == 0 ? [] : [new ReasonValue.Name("…"), new ReasonValue.Name("…")];

    private static string Why(Reason because, DateTimeOffset at, Reader reader) => NoticeText.Of(because, reader, ReceivedAt.From(at));
}
