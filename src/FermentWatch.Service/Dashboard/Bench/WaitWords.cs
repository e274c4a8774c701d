using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>What an entry sets going: waits and duties that the rules then watch.</summary>
internal static class WaitWords
{
    /// <summary>A sentence with the length that counts for the batch; null where the entry sets nothing going.</summary>
    public static string? Of(JournalKind kind, AlertSettings settings)
    {
        TimeSpan? length = kind switch
        {
            JournalKind.TanninAdded when settings.Waiting.Enabled => settings.Waiting.Tannin,
            JournalKind.Stabilized when settings.Waiting.Enabled => settings.Waiting.Stabilized,
            JournalKind.Sweetened when settings.Waiting.Enabled => settings.Waiting.Sweetened,
            JournalKind.OakIn when settings.Care.Enabled => settings.Care.Oak,
            JournalKind.SulfiteAdded when settings.Care.Enabled => settings.Care.FreeSulfite,
            JournalKind.NutrientPlan => TimeSpan.Zero,
            JournalKind.Bottled when settings.Sentinel.Enabled => TimeSpan.Zero,
            _ => null,
        };
        return length is { } wait ? BenchText.Of("wait-" + kind, wait.TotalDays.ToString("0.#", System.Globalization.CultureInfo.InvariantCulture)) : null;
    }
}
