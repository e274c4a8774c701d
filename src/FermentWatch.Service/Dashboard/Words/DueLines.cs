using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>When somebody's hand is needed.</summary>
public enum DueIn
{
    /// <summary>Today, or since a day that has passed.</summary>
    Today = 0,

    /// <summary>Within the next seven days.</summary>
    Week = 1,

    /// <summary>Later than that.</summary>
    Later = 2,
}

/// <summary>Something to do with its date, as the book shows it.</summary>
/// <param name="At">When it is due.</param>
/// <param name="When">'Tonight', 'Today, since Oct 4', 'Thursday, October 8'.</param>
/// <param name="What">What to do: '12.3 g of nutrient, part 2 of 3'.</param>
/// <param name="In">How soon.</param>
public sealed record DueLine(EventTime At, string When, string What, DueIn In)
{
    /// <summary>The entry of the journal that answers it; null where none does.</summary>
    public JournalKind? Answer { get; init; }

    /// <summary>What to weigh, for the entry; null for nothing. [g]</summary>
    public double? Grams { get; init; }
}

/// <summary>The dated next acts of a batch in words, the next one first.</summary>
internal static class DueLines
{
    private const int EveningFrom = 17;

    /// <summary>What is due.</summary>
    /// <param name="view">The batch.</param>
    /// <param name="settings">Lengths of waits that count for the batch.</param>
    /// <param name="reader">The reader.</param>
    public static IReadOnlyList<DueLine> Of(BatchView view, AlertSettings settings, Reader reader)
    {
        var lines = NextActs.Of(view, settings).Select(act => Line(view, act.DueAt, Words(act, reader), reader) with { Answer = AnswerTo(act) }).ToList();
        if (settings.Nutrient.Enabled && NutrientDueRule.Next(view) is { Part: var part } next)
        {
            var grams = reader.Field(part.Grams, "g", 1);
            if (next.When is not { } when)
            {
                // No day: the gravity tells, and the curve does not get there in most of the ways on.
                var mark = part.Gravity is { } gravity ? reader.Gravity(gravity) : "";
                lines.Add(new DueLine(part.DueAt, PageText.Of("due-at-gravity", mark), PageText.Of("due-nutrient", grams, part.Part, part.Parts), DueIn.Later) { Answer = JournalKind.NutrientAdded, Grams = part.Grams });
            }
            else
            {
                var line = Line(view, when.Middle, PageText.Of("due-nutrient", grams, part.Part, part.Parts), reader) with { Answer = JournalKind.NutrientAdded, Grams = part.Grams };
                var (early, late) = (reader.DateOf(when.Early), reader.DateOf(when.Late));
                lines.Add(early == late ? line : line with { What = line.What + " " + PageText.Of("due-odds", reader.ShortDay(when.Early), reader.ShortDay(when.Late)) });
            }
        }

        return [.. lines.OrderBy(line => line.At)];
    }

    // What the rule itself takes for an answer.
    private static JournalKind? AnswerTo(NextAct act) => (act.Rule, act.Subject) switch
    {
        (CareDueRule.Id, "top-up") => JournalKind.ToppedUp,
        (CareDueRule.Id, "airlock") => JournalKind.AirlockRefilled,
        (CareDueRule.Id, "sulfite") => JournalKind.MeasuredByHand,
        (CareDueRule.Id, "oak") => JournalKind.Tasted,
        (CareDueRule.Id, "lees" or "racking") => JournalKind.Racked,
        (WaitingOverRule.Id, "tannin" or "jars") => JournalKind.Tasted,
        (WaitingOverRule.Id, "fining" or "clarification") => JournalKind.Racked,
        (WaitingOverRule.Id, _) => JournalKind.MeasuredByHand,
        (SentinelDueRule.Id, _) => JournalKind.BottleChecked,
        _ => null,
    };

    private static DueLine Line(BatchView view, EventTime at, string what, Reader reader)
    {
        var (today, day) = (reader.DateOf(view.Now), reader.DateOf(at));
        var apart = day.DayNumber - today.DayNumber;
        return apart switch
        {
            < 0 => new(at, PageText.Of("due-since", reader.ShortDay(at)), what, DueIn.Today),
            0 when at > view.Now && reader.Local(at).Hour >= EveningFrom => new(at, PageText.Of("due-tonight"), what, DueIn.Today),
            0 => new(at, PageText.Of("due-today"), what, DueIn.Today),
            1 => new(at, PageText.Of("due-tomorrow"), what, DueIn.Week),
            <= 7 => new(at, reader.LongDay(at), what, DueIn.Week),
            _ => new(at, reader.LongDay(at), what, DueIn.Later),
        };
    }

    private static string Words(NextAct act, Reader reader) =>
        PageText.Maybe($"due-{act.Rule}-{act.Subject}") ?? PageText.Maybe("due-" + act.Rule) ?? NoticeText.Of(act.Words.Title, reader, ReceivedAt.From(act.DueAt.ToDateTimeOffset()));
}
