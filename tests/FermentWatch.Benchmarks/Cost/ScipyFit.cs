using System.Diagnostics;
using System.Text.Json;

namespace FermentWatch.Benchmarks.Cost;

/// <summary>The same fit by scipy's curve_fit, run in a process of its own.</summary>
/// <param name="Microseconds">Median processor time of a fit.</param>
/// <param name="Found">Parameters at its default tolerances.</param>
/// <param name="Closest">The minimum itself, by plain Gauss-Newton steps of numpy from there.</param>
/// <param name="Version">Which scipy.</param>
internal sealed record ScipyFit(double Microseconds, double[] Found, double[] Closest, string Version)
{
    public static async Task<ScipyFit> RunAsync(AsymmetricFall problem, int repeats)
    {
        var script = Path.Combine(AppContext.BaseDirectory, "Cost", "curve_fit.py");
        var python = Environment.GetEnvironmentVariable("FERMENTWATCH_PYTHON") ?? "python3";
        using var process = Process.Start(new ProcessStartInfo(python, [script]) { RedirectStandardInput = true, RedirectStandardOutput = true })
            ?? throw new InvalidOperationException($"{python} does not start.");
        await process.StandardInput.WriteAsync(JsonSerializer.Serialize(new
        {
            t = problem.Points.Select(point => point.Time),
            y = problem.Points.Select(point => point.Value),
            start = AsymmetricFall.Start,
            repeats,
        }));
        process.StandardInput.Close();
        using var answer = JsonDocument.Parse(await process.StandardOutput.ReadToEndAsync());
        await process.WaitForExitAsync();
        return new ScipyFit(
            answer.RootElement.GetProperty("microseconds").GetDouble(),
            [.. answer.RootElement.GetProperty("found").EnumerateArray().Select(one => one.GetDouble())],
            [.. answer.RootElement.GetProperty("closest").EnumerateArray().Select(one => one.GetDouble())],
            answer.RootElement.GetProperty("version").GetString()!);
    }
}
