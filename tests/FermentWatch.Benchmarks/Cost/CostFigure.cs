using System.Diagnostics;
using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Benchmarks.Cost;

/// <summary>
/// What a forecast costs, in processor time of this process, which other work on the machine disturbs less than a clock on the wall does; and
/// the fitter against scipy's curve_fit on the same points, from the same start, with the same analytic derivatives, in the same run.
/// </summary>
internal static class CostFigure
{
    private const int FirstMinute = 45 * 24 * 60;
    private const int ColdRounds = 40;
    private const int WarmMinutes = 61;
    private const int Turns = 5;

    public static async Task<int> RunAsync()
    {
        var isMet = Forecasts();
        foreach (var (count, bar) in new[] { (200, 10.0), (2000, 3.0) })
        {
            isMet &= await FitAsync(count, bar);
        }

        return isMet ? 0 : 1;
    }

    private static bool Forecasts()
    {
        var batch = new LongBatch(seed: 11);
        List<double> cold = [], warm = [], line = [], whole = [];
        BatchView? before = null;
        for (var round = 0; round < ColdRounds; round++)
        {
            var input = batch.ViewAt(FirstMinute + (round * 9 * 60), null).Outlook!.Input;
            cold.Add(Milliseconds(() => Outlook.At(input, null)));
        }

        for (var minute = batch.Count - WarmMinutes; minute < batch.Count; minute++)
        {
            BatchView? view = null;
            whole.Add(Milliseconds(() => view = batch.ViewAt(minute, before)));
            var cost = Milliseconds(() => Outlook.At(view!.Outlook!.Input, before?.Outlook));
            if (before is not null)
            {
                warm.Add(cost);
                if (view!.Forecast!.AsOf != before.Forecast!.AsOf)
                {
                    line.Add(cost);
                }
            }

            before = view;
        }

        var allocated = InnerFitBytes(before!.Outlook!.Input);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"forecast of a batch of 60 days, {batch.Count} readings, one a minute; processor time in ms:"));
        Print("cold (median; most)", $"{Median(cold),8:F2}; {cold.Max():F2}", "must 50, aim 20");
        Print("warm, after each new reading (median)", $"{Median(warm),8:F3}", "must 5, aim 2");
        Print("warm, where a new line of the grid is reached (median)", $"{Median(line),8:F2}", "one reading in 15");
        Print("whole view, cleaning of all readings included (median)", $"{Median(whole),8:F2}", "");
        Print("bytes allocated by the inner fit", $"{allocated,8}", "must 0");
        return Median(cold) <= 50 && Median(warm) <= 5 && allocated == 0;
    }

    private static long InnerFitBytes(ForecastInput input)
    {
        var data = CurveData.From(input);
        var prior = new CurvePrior(input, data);
        var curve = new FermentCurve(input.Prior.For(input.Kind), new ThermalTime(input.Temperature, data.Origin, data.NowHours), data.NowHours, data.UsedBefore);
        var problem = new FermentProblem(curve, data, prior.Center, prior.Spread);
        var solver = new LevenbergMarquardt(problem.ParameterCount, problem.RowCount);
        double[] start = [.. prior.Center];
        var settings = new FitSettings { RobustRows = data.Count };
        var before = GC.GetAllocatedBytesForCurrentThread();
        solver.Minimize(problem, start, prior.Low, prior.High, settings);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    private static async Task<bool> FitAsync(int count, double bar)
    {
        var problem = AsymmetricFall.Draw(count, seed: 5);
        var solver = new LevenbergMarquardt(problem.ParameterCount, problem.RowCount);
        // As the other library's own defaults: a step or a fall of the cost (about the number of points, since the noise is 1) of 1e-8.
        var settings = FitSettings.Plain with { StepTolerance = 1e-8, CostTolerance = 1e-8 * count };
        var (found, rounds) = (new double[problem.ParameterCount], new List<(double Own, double Theirs)>());
        // The runtime compiles what runs often anew in the background, some tenths of a second later.
        for (var began = Stopwatch.GetTimestamp(); Stopwatch.GetElapsedTime(began).TotalSeconds < 2;)
        {
            Fit(solver, problem, found, settings);
        }

        ScipyFit theirs;
        do
        {
            // By turns, so that other work on the machine meets both; the first third of each round warms up.
            List<double> own = [];
            var repeats = count > 1000 ? 300 : 1000;
            for (var repeat = 0; repeat < 3 * repeats; repeat++)
            {
                var begun = Stopwatch.GetTimestamp();
                Fit(solver, problem, found, settings);
                own.Add(Stopwatch.GetElapsedTime(begun).TotalMicroseconds);
            }

            theirs = await ScipyFit.RunAsync(problem, repeats);
            rounds.Add((Median(own[repeats..]), theirs.Microseconds));
        }
        while (rounds.Count < Turns);

        var before = GC.GetAllocatedBytesForCurrentThread();
        var iterations = Fit(solver, problem, found, settings).Iterations;
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        var apart = Apart(found, theirs.Found);
        Fit(solver, problem, found, settings with { StepTolerance = 1e-12, CostTolerance = 0 });
        var apartAtTheEnd = Apart(found, theirs.Closest);
        List<double> ratios = [.. rounds.Select(round => round.Theirs / round.Own)];
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"fit of 5 parameters to {count} points: {Median([.. rounds.Select(round => round.Own)]):F1} µs in {iterations} iterations, scipy {theirs.Version} {Median([.. rounds.Select(round => round.Theirs)]):F0} µs: {Median(ratios):F1} times as fast (must {bar}; {Turns} turns, {ratios.Min():F1} to {ratios.Max():F1}); {allocated} bytes"));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  parameters agree to {apart:E0}, and at the minimum itself, to which both go on, to {apartAtTheEnd:E0}"));
        return Median(ratios) >= bar && allocated == 0 && apart < 1e-5 && apartAtTheEnd < 1e-8;
    }

    private static FitOutcome Fit(LevenbergMarquardt solver, AsymmetricFall problem, double[] found, FitSettings settings)
    {
        AsymmetricFall.Start.CopyTo(found, 0);
        return solver.Minimize(problem, found, [], [], settings);
    }

    private static double Apart(double[] own, double[] theirs) => own.Zip(theirs, (a, b) => Math.Abs(a - b) / Math.Abs(b)).Max();

    private static double Milliseconds(Action work)
    {
        var before = Environment.CpuUsage.TotalTime;
        work();
        return (Environment.CpuUsage.TotalTime - before).TotalMilliseconds;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private static void Print(string what, string figure, string bar) => Console.WriteLine($"  {what,-58} {figure}  {bar}");
}
