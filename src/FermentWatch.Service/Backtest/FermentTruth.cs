using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>How a recorded ferment truly stood at a cut.</summary>
/// <param name="Number">Number of the cut.</param>
/// <param name="Hours">Hours since inoculation.</param>
/// <param name="Gravity">True gravity. [SG]</param>
/// <param name="FinalGravity">The gravity it would end at if nobody intervened any more. [SG]</param>
/// <param name="Remaining">Gravity still to fall. [SG]</param>
/// <param name="FinishHours">Hour at which it is within 0.001 of that end for good.</param>
/// <param name="EndsStuck">Left alone it ends with sugar that the yeast could still bear the alcohol of.</param>
/// <param name="RatePerDay">True fall. [SG a day]</param>
/// <param name="State">lag, active, slowing, stuck or finished.</param>
internal sealed record TruthCut(
    int Number, double Hours, double Gravity, double FinalGravity, double Remaining, double FinishHours, bool EndsStuck, double RatePerDay, string State);

/// <summary>The truth about a recorded ferment (truth.json), for scoring only.</summary>
/// <param name="Ferment">Name of the recording.</param>
/// <param name="Family">What kind of course it is.</param>
/// <param name="InoculatedAt">When the yeast went in.</param>
/// <param name="ShareHours">Hours at which 30, 50, 70 and 90 % of the sugar is consumed.</param>
/// <param name="Acts">What somebody did: hour and kind.</param>
/// <param name="Excursions">Spells outside the band: from and to, in hours.</param>
/// <param name="StuckAtHours">When it got stuck, or null.</param>
/// <param name="StuckEndHours">When it went on, or null.</param>
/// <param name="TrueFinishHours">From when on it counts as finished, or null for never.</param>
/// <param name="EndHours">End of the data.</param>
/// <param name="Cuts">The cuts.</param>
internal sealed record FermentTruth(
    string Ferment,
    string Family,
    EventTime InoculatedAt,
    IReadOnlyDictionary<string, double> ShareHours,
    IReadOnlyList<(double Hours, string Kind)> Acts,
    IReadOnlyList<(double From, double To)> Excursions,
    double? StuckAtHours,
    double? StuckEndHours,
    double? TrueFinishHours,
    double EndHours,
    IReadOnlyList<TruthCut> Cuts)
{
    /// <summary>
    /// The stretches of cuts that are all labeled stuck, by time, in hours: from the moment at which it got stuck where that is known, else from the first
    /// such cut, to the first cut that is labeled otherwise, to the restart or to the end of the data.
    /// </summary>
    /// <remarks><see cref="StuckAtHours"/> alone is no standstill that lasts: a starved ferment that a cold night stops for some hours has one too, and works on.</remarks>
    public IEnumerable<(double From, double Until)> StuckSpells()
    {
        double? from = null;
        var before = double.NegativeInfinity;
        foreach (var cut in Cuts)
        {
            if (cut.State == "stuck")
            {
                from ??= StuckAtHours is { } at && at > before && at < cut.Hours ? at : cut.Hours;
            }
            else if (from is { } began)
            {
                yield return (began, Math.Min(cut.Hours, StuckEndHours is { } over && over > began ? over : cut.Hours));
                from = null;
            }

            before = cut.Hours;
        }

        if (from is { } lasts)
        {
            yield return (lasts, EndHours);
        }
    }

    /// <summary>Reads the file and, for the inoculation, meta.json beside it.</summary>
    /// <exception cref="BacktestException">The file is missing or wrong.</exception>
    public static FermentTruth Read(string folder)
    {
        var path = Path.Combine(folder, "truth.json");
        try
        {
            using var document = JsonDocument.Parse(File.ReadAllText(path));
            return Read(new JsonFields(path, document.RootElement), ReplayMeta.Read(folder));
        }
        catch (JsonException fault)
        {
            throw new BacktestException($"{path}: not valid JSON ({fault.Message})", fault);
        }
        catch (FileNotFoundException fault)
        {
            throw new BacktestException($"{path}: --score needs the truth, and there is no such file.", fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new BacktestException($"{path}: cannot be read ({fault.Message})", fault);
        }
    }

    private static FermentTruth Read(JsonFields fields, ReplayMeta meta)
    {
        var shares = fields.Object("frac_times_h") ?? throw fields.Wrong("frac_times_h", "the hours at 30, 50, 70 and 90 %");
        return new FermentTruth(
            fields.Text("ferment") ?? meta.Ferment,
            fields.Text("family") ?? "",
            meta.Batch.InoculatedAt,
            BacktestScore.Shares.ToDictionary(share => share, share => Needed(shares, share)),
            [.. (fields.Array("events") ?? []).Select(act => (act[0].GetDouble(), act[1].GetString() ?? ""))],
            [.. (fields.Array("temp_excursions") ?? []).Select(spell => (spell[0].GetDouble(), spell[1].GetDouble()))],
            Any(fields, "stuck_at_h"),
            Any(fields, "stuck_end_h"),
            Any(fields, "true_finish_h"),
            Needed(fields, "end_h"),
            [.. fields.Objects("cuts").Select(cut => new TruthCut(
                (int)Needed(cut, "cut"),
                Needed(cut, "h"),
                Needed(cut, "sg"),
                Needed(cut, "fg"),
                Needed(cut, "remaining"),
                Any(cut, "finish_h") ?? double.PositiveInfinity,
                cut.Flag("ends_stuck") ?? false,
                Needed(cut, "rate"),
                cut.Text("state") ?? throw cut.Wrong("state", "lag, active, slowing, stuck or finished")))]);
    }

    private static double? Any(JsonFields fields, string name) => fields.Number(name, double.MinValue, double.MaxValue);

    private static double Needed(JsonFields fields, string name) => Any(fields, name) ?? throw fields.Wrong(name, "a number");
}
