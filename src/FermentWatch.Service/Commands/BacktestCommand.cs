using System.CommandLine;
using System.Globalization;
using FermentWatch.Service.Backtest;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Says what the forecast would have said on recorded batches, and how right it was.</summary>
internal static class BacktestCommand
{
    private static readonly int MostWorkers = Environment.ProcessorCount;

    public static Command Build()
    {
        var folder = new Argument<string>("FOLDER")
        {
            Description = "A recording, or a folder of them: each with meta.json and readings.csv, as the page of a batch exports it.",
        };
        var output = new Option<string>("--out") { Description = "File that gets one prediction a line, as JSON.", HelpName = "FILE", Required = true };
        var score = new Option<bool>("--score") { Description = "Print how right the predictions were; needs truth.json in each recording." };
        var only = new Option<string[]>("--only")
        {
            Description = "Only the recordings with these folder names, such as --only s01 s02.",
            HelpName = "NAME",
            AllowMultipleArgumentsPerToken = true,
            DefaultValueFactory = _ => [],
        };
        var workers = new Option<int>("--workers")
        {
            Description = string.Create(CultureInfo.InvariantCulture, $"How many recordings to work on at a time, 1 to 64. Default: the processors of this machine ({MostWorkers})."),
            HelpName = "N",
            DefaultValueFactory = _ => MostWorkers,
        };
        workers.Validators.Add(given =>
        {
            if (given.Tokens.Count > 0 && (!int.TryParse(given.Tokens[0].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number is < 1 or > 64))
            {
                given.AddError($"--workers {given.Tokens[0].Value}: must be a whole number from 1 to 64.");
            }
        });
        var command = new Command("backtest", "What would the forecast have said on past batches? At each moment it gets only what had arrived by then.")
        {
            folder, output, score, only, workers,
        };
        command.SetAction((parsed, stop) => Task.FromResult(Run(
            parsed.GetValue(folder)!, parsed.GetValue(output)!, parsed.GetValue(score), parsed.GetValue(only) ?? [], parsed.GetValue(workers), Console.Out, Console.Error, stop)));
        return command;
    }

    /// <summary>Predicts, writes, scores. 0 when all is well, 2 after a sentence about what is wrong.</summary>
    internal static int Run(
        string folder, string output, bool isScored, IReadOnlyList<string> only, int workers, TextWriter result, TextWriter progress, CancellationToken stop)
    {
        try
        {
            var paths = Chosen(folder, only);
            var truths = isScored ? paths.Select(FermentTruth.Read).ToList() : [];
            var predictions = new BacktestRun(progress).Predict(paths, workers, stop);
            Write(output, predictions);
            progress.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{predictions.Count} predictions for {paths.Count} recordings are in {output}"));
            if (isScored)
            {
                ScoreTable.Print(BacktestScore.Of(truths, predictions), result);
            }

            return 0;
        }
        catch (BacktestException fault)
        {
            progress.WriteLine(fault.Message);
            return SettingsResult.ExitCode;
        }
        catch (OperationCanceledException)
        {
            progress.WriteLine("Stopped; nothing was written.");
            return 1;
        }
    }

    private static IReadOnlyList<string> Chosen(string folder, IReadOnlyList<string> only)
    {
        var all = ReplayFolder.Find(folder);
        if (only.Count == 0)
        {
            return all;
        }

        var names = all.ToDictionary(path => Path.GetFileName(Path.TrimEndingDirectorySeparator(path)), StringComparer.Ordinal);
        return [.. only.Distinct().Order(StringComparer.Ordinal).Select(name => names.TryGetValue(name, out var path)
            ? path
            : throw new BacktestException($"--only {name}: {folder} has no such recording."))];
    }

    private static void Write(string output, IReadOnlyList<Prediction> predictions)
    {
        try
        {
            // Whole or not at all: a half-written file would be scored as missing predictions.
            var unfinished = output + ".unfinished";
            File.WriteAllLines(unfinished, predictions.Select(prediction => prediction.ToLine()));
            File.Move(unfinished, output, overwrite: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new BacktestException($"--out {output}: cannot be written ({fault.Message})", fault);
        }
    }
}
