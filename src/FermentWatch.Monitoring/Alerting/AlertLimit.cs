using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A limit or a hold of a rule that a batch may have of its own: an entry of <see cref="AlertLimitCatalog"/>.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Field">Name, unit and range, as forms of the journal have them. Stored under its name, which is never renamed.</param>
/// <param name="Of">Reads it from settings, in the field's unit.</param>
/// <param name="With">Gives settings with another value.</param>
public sealed record AlertLimit(string Rule, JournalField Field, Func<AlertSettings, double> Of, Func<AlertSettings, double, AlertSettings> With);

/// <summary>A limit that a batch has of its own.</summary>
/// <param name="Name">Name of the limit's field.</param>
/// <param name="Value">In the field's unit.</param>
public readonly record struct OwnLimit(string Name, double Value);

/// <summary>Applies a batch's own limits.</summary>
public static class OwnLimits
{
    /// <summary>The settings that hold for a batch. Limits that are unknown, or out of their range, change nothing.</summary>
    public static AlertSettings For(this AlertSettings settings, ValueList<OwnLimit> own)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(own);
        foreach (var one in own)
        {
            if (AlertLimitCatalog.Find(one.Name) is { } limit && one.Value >= limit.Field.Low && one.Value <= limit.Field.High)
            {
                settings = limit.With(settings, one.Value);
            }
        }

        return settings;
    }

    /// <summary>Limits of a batch where they differ from the settings of all.</summary>
    /// <param name="settings">The settings of all.</param>
    /// <param name="values">Value by name of the field.</param>
    public static ValueList<OwnLimit> Differing(AlertSettings settings, IReadOnlyDictionary<string, double> values) => ValueList.Of(
        from limit in AlertLimitCatalog.All
        where values.ContainsKey(limit.Field.Name) && Math.Abs(values[limit.Field.Name] - limit.Of(settings)) > 1e-9
        select new OwnLimit(limit.Field.Name, values[limit.Field.Name]));

    /// <summary>Pairs of limits that are crossed in these settings: the first must lie below the second.</summary>
    public static IEnumerable<(AlertLimit Lower, AlertLimit Upper)> Crossed(AlertSettings settings) =>
        from pair in AlertLimitCatalog.Ordered
        let lower = AlertLimitCatalog.Find(pair.Lower)!
        let upper = AlertLimitCatalog.Find(pair.Upper)!
        where lower.Of(settings) >= upper.Of(settings)
        select (lower, upper);
}
