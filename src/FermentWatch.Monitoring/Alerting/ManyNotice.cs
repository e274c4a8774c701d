using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Words of a notice that tells of several alerts at once.</summary>
internal static class ManyNotice
{
    // As many titles as fit beside the cautions.
    private const int MostTold = 3;

    public static NoticeWords Words(NoticeManner manner, IReadOnlyList<NoticeLine> lines, BatchView? first) => manner switch
    {
        NoticeManner.One or NoticeManner.Away => new NoticeWords(lines[0].Title, lines[0].Body),
        NoticeManner.Group => new NoticeWords(
            Reason.Of("title-group", new ReasonValue.Name(first?.Batch.Name ?? lines[0].Batch.Value), Count(lines.Count)), Body(lines)),
        NoticeManner.Flood => new NoticeWords(
            Reason.Of("title-flood", Count(lines.Count), Count(lines.Select(line => line.Batch).Distinct().Count())), Body(lines)),
        _ => new NoticeWords(
            lines.Count == 1 ? Reason.Of("title-digest-one") : Reason.Of("title-digest", Count(lines.Count)), Body(lines)),
    };

    /// <summary>The gravest first; whoever is sent into a cellar by any of them is told to ventilate first.</summary>
    private static ValueList<Reason> Body(IReadOnlyList<NoticeLine> lines)
    {
        var told = lines.OrderByDescending(line => line.Severity).ThenByDescending(line => line.At).Take(MostTold)
            .Select(line => Reason.Of("many-line", new ReasonValue.Words(line.Title)));
        var more = lines.Count > MostTold ? new[] { Reason.Of("many-more", Count(lines.Count - MostTold)) } : [];
        var air = lines.SelectMany(line => line.Body).FirstOrDefault(sentence => sentence.Code.StartsWith("ventilate", StringComparison.Ordinal));
        return ValueList.Of([.. told, .. more, .. air is null ? Array.Empty<Reason>() : [air], Reason.Of("many-look")]);
    }

    private static ReasonValue.Count Count(int number) => new(number);
}
