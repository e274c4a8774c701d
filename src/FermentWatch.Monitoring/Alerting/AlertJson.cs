using System.Text.Json;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The stored form of alert sets and outbox drafts.</summary>
public static class AlertJson
{
    /// <summary>Writes a set.</summary>
    public static string Write(AlertSet set) => JsonSerializer.Serialize(set);

    /// <summary>Writes a draft.</summary>
    public static string Write(OutboxDraft draft) => JsonSerializer.Serialize(draft);

    /// <summary>Writes a ledger.</summary>
    public static string Write(NoticeLedger ledger) => JsonSerializer.Serialize(ledger);

    /// <summary>Reads a ledger.</summary>
    /// <exception cref="FormatException">Not a ledger, or of a newer version than this program knows.</exception>
    public static NoticeLedger ReadLedger(string json)
    {
        var ledger = Read<NoticeLedger>(json);
        return ledger.Version <= NoticeLedger.CurrentVersion
            ? ledger
            : throw new FormatException($"The stored ledger of notices has version {ledger.Version}; this program knows versions up to {NoticeLedger.CurrentVersion}.");
    }

    /// <summary>Reads a set.</summary>
    /// <exception cref="FormatException">Not a set, or of a newer version than this program knows.</exception>
    public static AlertSet ReadSet(string json)
    {
        var set = Read<AlertSet>(json);
        return set.Version <= AlertSet.CurrentVersion
            ? set
            : throw new FormatException($"The stored alert set has version {set.Version}; this program knows versions up to {AlertSet.CurrentVersion}.");
    }

    /// <summary>Reads a draft.</summary>
    /// <exception cref="FormatException">Not a draft.</exception>
    public static OutboxDraft ReadDraft(string json) => Read<OutboxDraft>(json);

    private static T Read<T>(string json)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize<T>(json) ?? throw new FormatException($"A stored {typeof(T).Name} is empty.");
        }
        catch (JsonException exception)
        {
            throw new FormatException($"A stored {typeof(T).Name} cannot be read: {exception.Message}", exception);
        }
    }
}
