using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Calendar;

/// <summary>An act as the calendar shows it.</summary>
/// <param name="Batch">Its batch.</param>
/// <param name="Act">What, and when.</param>
/// <param name="Uid">Stable id of the event.</param>
/// <param name="Sequence">How often its date has moved (RFC 5545, section 3.8.7.4).</param>
public sealed record CalendarAct(BatchId Batch, NextAct Act, string Uid, int Sequence);

/// <summary>
/// What calendars showed of each act, so that a date that sways with the forecast is moved only when that is news, and each move counts. The same for everybody who
/// asks, and kept on disk.
/// </summary>
public sealed class CalendarDates(Store store) : IDisposable
{
    private const string Property = "calendar-dates";

    // A forgotten event would begin at 0 again, which programs take for an old one.
    private static readonly TimeSpan Kept = TimeSpan.FromDays(60);

    private readonly SemaphoreSlim _gate = new(1);

    /// <summary>The acts of these batches by date, as they are to be shown now.</summary>
    public async Task<IReadOnlyList<CalendarAct>> OfAsync(IEnumerable<BatchView> views, AlertSettings settings, DateTimeOffset now, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(views);
        ArgumentNullException.ThrowIfNull(settings);
        await _gate.WaitAsync(cancellationToken);
        try
        {
            var shown = store.ReadProperties(Property).TryGetValue(Property, out var json) ? JsonSerializer.Deserialize<Dictionary<string, ShownDate>>(json)! : [];
            var (acts, next) = Follow(views, settings.For, shown, EventTime.From(now));
            if (JsonSerializer.Serialize(next) is var written && written != json)
            {
                await KeepAsync(written, cancellationToken);
            }

            return acts;
        }
        finally
        {
            _gate.Release();
        }
    }

    /// <summary>The acts as they are to be shown, and what is to be kept of them.</summary>
    /// <param name="views">The batches.</param>
    /// <param name="settings">Settings of a batch with these limits.</param>
    /// <param name="shown">What was shown before, by id.</param>
    /// <param name="now">The present.</param>
    internal static (IReadOnlyList<CalendarAct> Acts, Dictionary<string, ShownDate> Shown) Follow(
        IEnumerable<BatchView> views, Func<ValueList<OwnLimit>, AlertSettings> settings, IReadOnlyDictionary<string, ShownDate> shown, EventTime now)
    {
        var (acts, next) = (new List<CalendarAct>(), shown.Where(one => now - one.Value.At < Kept).ToDictionary());
        foreach (var view in views)
        {
            var fresh = NutrientDueRule.ByGravity(view);
            var steady = fresh is null ? null : fresh with { When = fresh.When.Steady(shown.GetValueOrDefault(UidOf(view.Batch.Id, fresh))?.Nutrient, now) };
            foreach (var act in NextActs.WithNutrient(view, settings(view.Batch.Limits), steady))
            {
                var uid = act.Rule == NutrientDueRule.Id && steady is not null ? UidOf(view.Batch.Id, steady) : UidOf(view, act);
                var before = shown.GetValueOrDefault(uid);
                var sequence = before is null ? 0 : before.At == act.DueAt ? before.Sequence : before.Sequence + 1;
                next[uid] = new ShownDate(act.DueAt, sequence, act.Rule == NutrientDueRule.Id ? steady?.When : null);
                acts.Add(new CalendarAct(view.Batch.Id, act, uid, sequence));
            }
        }

        return ([.. acts.OrderBy(one => one.Act.DueAt).ThenBy(one => one.Uid, StringComparer.Ordinal)], next);
    }

    /// <inheritdoc/>
    public void Dispose() => _gate.Dispose();

    // What could not be kept is only forgotten: the calendar is still right.
    private async Task KeepAsync(string written, CancellationToken cancellationToken)
    {
        try
        {
            await store.WritePropertiesAsync(new Dictionary<string, string?> { [Property] = written }, cancellationToken);
        }
        catch (StorageUnavailableException)
        {
        }
    }

    // The same act keeps its id when its date moves, and the next one of its kind gets another: care repeats. A part of nutrient keeps it when gravity no longer tells.
    private static string UidOf(BatchView view, NextAct act) => act.Rule == NutrientDueRule.Id && Monitoring.Batches.Journaling.PlannedNutrients.Of(view) is { } plan
        ? Uid($"{view.Batch.Id}/{act.Rule}/{act.Subject}/{plan.MadeAt}")
        : Uid($"{view.Batch.Id}/{act.Rule}/{act.Subject}/{act.Words.Body[0].Values.OfType<ReasonValue.Moment>().FirstOrDefault()?.At ?? act.DueAt}");

    private static string UidOf(BatchId batch, NutrientDate date) => Uid($"{batch}/{NutrientDueRule.Id}/{NutrientDueRule.DutyOf(date).Subject}/{date.PlannedAt}");

    private static string Uid(string name) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name)))[..32] + "@fermentwatch";
}

/// <summary>What a calendar showed of an act.</summary>
/// <param name="At">Its date.</param>
/// <param name="Sequence">How often that moved.</param>
/// <param name="Nutrient">The part of nutrient whose date gravity tells; null for anything else.</param>
internal sealed record ShownDate(EventTime At, int Sequence, NutrientRange? Nutrient);
