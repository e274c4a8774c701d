using System.Globalization;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.InOut;

namespace FermentWatch.Service.Backtest;

/// <summary>The journal of a recorded batch (journal.csv); a recording without the file has none.</summary>
internal static class ReplayJournal
{
    private static readonly string[] Needed = ["at", "kind", "body"];

    /// <summary>The entries as they are stored.</summary>
    /// <exception cref="BacktestException">A column or a line is wrong: a journal is the maker's word, and none of it is left out silently.</exception>
    public static IReadOnlyList<ExportedEntry> Read(string folder)
    {
        var path = Path.Combine(folder, "journal.csv");
        if (!File.Exists(path))
        {
            return [];
        }

        try
        {
            using var text = new StreamReader(path);
            return [.. Read(path, text)];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new BacktestException($"{path}: cannot be read ({fault.Message})", fault);
        }
    }

    private static IEnumerable<ExportedEntry> Read(string path, TextReader text)
    {
        List<string>? header = null;
        var number = 0L;
        foreach (var record in new CsvReader(text, ',').Records())
        {
            if (header is null)
            {
                header = [.. record.Cells.Select(cell => cell.Trim().TrimStart('\ufeff'))];
                if (Needed.FirstOrDefault(name => !header.Contains(name)) is { } missing)
                {
                    throw new BacktestException($"{path}: the column '{missing}' is missing; the first line is '{string.Join(',', header)}'.");
                }

                continue;
            }

            string Cell(string name) => header.IndexOf(name) is var place and >= 0 && place < record.Cells.Count ? record.Cells[place] : "";
            BacktestException Wrong(string name, string right) => new(
                string.Create(CultureInfo.InvariantCulture, $"{path}, line {record.Line}: '{name}' is '{Cell(name)}'; it must be {right}."));

            number++;
            var at = IsoTime.Read(Cell("at"), out _) ?? throw Wrong("at", "a time such as 2026-03-01T08:00:00Z");
            var kind = JournalCatalog.Find(Cell("kind")) ?? throw Wrong("kind", "a kind of entry such as nutrient-added");
            var entry = new ExportedEntry(
                Whole(Cell("id")) ?? number,
                kind.Kind,
                at,
                CsvCells.Original(Cell("body")),
                Whole(Cell("supersedes")),
                IsoTime.Read(Cell("undone_at"), out _) is { } undone ? new ReceivedAt(undone.UnixMicroseconds) : null);
            try
            {
                entry.ToEntry(default);
            }
            catch (Exception fault) when (fault is JsonException or ArgumentException)
            {
                throw Wrong("body", "JSON such as {\"text\":\"first addition\"}");
            }

            yield return entry;
        }
    }

    private static long? Whole(string cell) => long.TryParse(cell, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
