using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Precision, recall and delay of the alerts that have bars, and notices a week, over recordings with their truth.</summary>
internal static class AlertFigures
{
    /// <summary>alerts FOLDER [--judgments FILE] [--quick]: every recording in it that has a truth.json; the file takes a line for each look; quick leaves out
    /// what needs a forecast.</summary>
    public static int Run(string[] arguments)
    {
        if (arguments.Length < 2)
        {
            Console.Error.WriteLine("alerts FOLDER [--judgments FILE] [--quick]");
            return 2;
        }

        var paths = ReplayFolder.Find(arguments[1]).Where(path => File.Exists(Path.Combine(path, "truth.json"))).ToList();
        var gate = new Lock();
        var all = Tallies();
        var (trace, written) = (Array.IndexOf(arguments, "--judgments") is var at and > 0 && at + 1 < arguments.Length ? arguments[at + 1] : null, new List<string>());
        var isQuick = arguments.Contains("--quick");
        var (weekly, rules) = (new List<double>(), new List<string>());
        Parallel.ForEach(paths, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, path =>
        {
            var (folder, truth, mine) = (ReplayFolder.Load(path), FermentTruth.Read(path), Tallies());
            BatchFacts whole = folder.FactsAt(folder.Cuts[^1]);
            TemperatureReplay.Run(whole, truth, folder.Ferment, mine[0]);
            var judgments = new List<string>();
            var (notices, weeks) = isQuick ? ([], 1) : FinishReplay.Run(folder, truth, mine[1], mine[2], judgments);
            SilenceReplay.Run(whole, folder.Ferment, mine[3]);
            lock (gate)
            {
                for (var i = 0; i < all.Length; i++)
                {
                    all[i].Add(mine[i]);
                }

                weekly.Add(notices.Count / weeks);
                rules.AddRange(notices);
                written.AddRange(judgments);
                Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{weekly.Count} of {paths.Count}: {folder.Ferment}"));
            }
        });
        if (trace is not null)
        {
            File.WriteAllLines(trace, [FinishReplay.JudgmentColumns, .. written]);
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{paths.Count} recordings; looked at every 12 h and near the end every 6 h, silence every 5 min"));
        foreach (var tally in all)
        {
            Console.WriteLine(tally.Line());
        }

        weekly.Sort();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"notices that are not urgent, a batch and week: median {weekly[weekly.Count / 2]:0.00}, P95 {weekly[Math.Min(weekly.Count - 1, (int)(weekly.Count * 0.95))]:0.00}"));
        Console.WriteLine("of these: " + string.Join(", ", rules.CountBy(rule => rule).OrderByDescending(rule => rule.Value).Select(rule => string.Create(CultureInfo.InvariantCulture, $"{rule.Key} {rule.Value}"))));
        Console.WriteLine("wrong or missed:");
        foreach (var tally in all)
        {
            Console.WriteLine(tally.Wrongs());
        }

        return 0;
    }

    private static AlertTally[] Tallies() =>
        [new("temperature-band", "dt", 2), new("stuck", "days", 3.5), new("ready-to-stabilize", "days", 7), new("sensor-silent", "dt", 2)];
}
