using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Precision, recall and delay of the alerts that have bars, and notices a week, over recordings with their truth.</summary>
internal static class AlertFigures
{
    /// <summary>
    /// alerts FOLDER [--judgments FILE] [--minutes M]: every recording in it that has a truth.json; the file takes a line for each look at the forecast; after
    /// M minutes no further recording is begun, and the figures say how many there were.
    /// </summary>
    public static int Run(string[] arguments)
    {
        if (arguments.Length < 2)
        {
            Console.Error.WriteLine("alerts FOLDER [--judgments FILE] [--minutes M]");
            return 2;
        }

        var paths = ReplayFolder.Find(arguments[1]).Where(path => File.Exists(Path.Combine(path, "truth.json"))).ToList();
        if (paths.Count == 0)
        {
            Console.Error.WriteLine($"{arguments[1]}: no recording with a truth.json in it.");
            return 2;
        }

        string? Option(string name) => Array.IndexOf(arguments, name) is var at and > 0 && at + 1 < arguments.Length ? arguments[at + 1] : null;
        var trace = Option("--judgments");
        var within = double.TryParse(Option("--minutes"), NumberStyles.Float, CultureInfo.InvariantCulture, out var minutes) ? TimeSpan.FromMinutes(minutes) : TimeSpan.MaxValue;
        var watch = Stopwatch.StartNew();
        var (gate, all, done) = (new Lock(), new RecordingFigures(), 0);
        // By seed, so that whatever was done when the time is over holds every family and structure.
        var order = Partitioner.Create(paths.OrderBy(path => Path.GetFileName(path)[1..], StringComparer.Ordinal).ToList(), loadBalance: true);
        Parallel.ForEach(order, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, path =>
        {
            if (watch.Elapsed > within)
            {
                return;
            }

            var mine = RecordingFigures.Of(path);
            lock (gate)
            {
                all.Add(mine);
                Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{++done} of {paths.Count}: {Path.GetFileName(path)}, looks {mine.Looks}"));
            }
        });
        if (trace is not null)
        {
            File.WriteAllLines(trace, [FinishJudge.JudgmentColumns, .. all.Judgments.Order(StringComparer.Ordinal)]);
        }

        Write(all, done);
        return 0;
    }

    private static void Write(RecordingFigures all, int count)
    {
        var (judged, glanced, ticked) = all.Looks;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{count} recordings: {judged} looks with a forecast, {glanced} without, {ticked} passes that only listen; {Process.GetCurrentProcess().TotalProcessorTime.TotalMinutes:0.0} CPU-minutes"));
        foreach (var tally in all.Tallies)
        {
            Console.WriteLine(tally.Line());
        }

        Console.WriteLine(all.Unanswered.Lines("nobody answers"));
        Console.WriteLine(all.Answered.Lines("answered within the hour"));
        Console.WriteLine($"chattering: {all.Chattering.Count} {string.Join(", ", all.Chattering.Order(StringComparer.Ordinal).Take(20))}");
        Console.WriteLine("wrong, late or missed:");
        foreach (var wrongs in all.Tallies.Select(tally => tally.Wrongs()).Where(text => text.Length > 0))
        {
            Console.WriteLine(wrongs);
        }
    }
}
