using System.Globalization;

namespace FermentWatch.Service.Backtest;

/// <summary>Predicts at every cut of every recording, several at a time; the result does not depend on how many.</summary>
/// <param name="progress">Where the progress is told.</param>
internal sealed class BacktestRun(TextWriter progress)
{
    /// <summary>All predictions, by recording, then by cut.</summary>
    /// <exception cref="BacktestException">A recording cannot be read.</exception>
    /// <exception cref="OperationCanceledException">Stopped.</exception>
    public IReadOnlyList<Prediction> Predict(IReadOnlyList<string> paths, int workers, CancellationToken stop)
    {
        var folders = paths.Select(ReplayFolder.Load).ToList();
        foreach (var same in folders.GroupBy(folder => folder.Ferment).Where(group => group.Count() > 1))
        {
            throw new BacktestException($"Two recordings have the name '{same.Key}' ('ferment' in meta.json); each must have its own.");
        }

        foreach (var folder in folders.Where(folder => folder.Readings.Unreadable > 0))
        {
            progress.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Note: {folder.Ferment}: {folder.Readings.Unreadable} of {folder.Readings.Rows.Count} rows are not read wholly. {folder.Readings.FirstUnreadable}."));
        }

        // Late cuts take longest: they begin first, so that no worker is left with a long one at the end.
        var work = folders.SelectMany((folder, place) => folder.Cuts.Select((cut, index) => (folder, place, cut, index)))
            .OrderByDescending(one => one.cut.Rows).ToList();
        var predictions = folders.ConvertAll(folder => new Prediction[folder.Cuts.Count]);
        var (done, told) = (0, 0L);
        var gate = new Lock();
        var options = new ParallelOptions { MaxDegreeOfParallelism = workers, CancellationToken = stop };
        try
        {
            Parallel.ForEach(System.Collections.Concurrent.Partitioner.Create(work, loadBalance: true), options, one =>
            {
                predictions[one.place][one.index] = Predictor.At(one.folder, one.cut);
                lock (gate)
                {
                    done++;
                    if (done * 20L / work.Count > told)
                    {
                        told = done * 20L / work.Count;
                        progress.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{done} of {work.Count} predictions"));
                    }
                }
            });
        }
        catch (AggregateException faults) when (faults.InnerExceptions.Any(fault => fault is BacktestException))
        {
            throw faults.InnerExceptions.First(fault => fault is BacktestException);
        }

        return [.. predictions.SelectMany(of => of)];
    }
}
