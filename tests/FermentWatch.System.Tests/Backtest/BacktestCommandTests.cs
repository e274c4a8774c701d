using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Service.Backtest;
using FermentWatch.Service.Commands;
using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Backtest;

/// <summary>The command 'backtest' on a recorded ferment. Source of the recording: ReferenceData/replays.</summary>
public sealed class BacktestCommandTests : IDisposable
{
    private const string Recorded = "ReferenceData/replays/s23";

    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-backtest-").FullName;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private string Output => Path.Combine(_folder, "predictions.jsonl");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Recording_GetsOnePredictionForEachCut_WithAllQuantilesInOrder()
    {
        var (exit, text, progress) = Run(Copy("one"), isScored: true);
        Assert.True(exit == 0, progress);
        var lines = File.ReadAllLines(Output);
        using var meta = JsonDocument.Parse(File.ReadAllText(Recorded + "/meta.json"));
        Assert.Equal(
            meta.RootElement.GetProperty("cuts").EnumerateArray().Select(cut => ("s23", cut.GetProperty("cut").GetInt32())),
            lines.Select(line => Prediction.Read("line", line)).Select(one => (one.Ferment, one.Cut)));
        Assert.All(lines, line =>
        {
            var q = JsonNode.Parse(line)!["fg"]!;
            double[] ends = [(double)q["p05"]!, (double)q["p25"]!, (double)q["p50"]!, (double)q["p75"]!, (double)q["p95"]!];
            Assert.Equal(ends.Order(), ends);
            Assert.InRange(ends[0], 0.95, 1.2);
            Assert.Contains((string)JsonNode.Parse(line)!["state"]!, (string[])["lag", "active", "slowing", "stuck", "finished"]);
        });
        Assert.Contains("== OVERALL", text, StringComparison.Ordinal);
        Assert.Contains("missing preds 0", text, StringComparison.Ordinal);
        Assert.Contains($"{lines.Length} of {lines.Length} predictions", progress, StringComparison.Ordinal);
    }

    [Fact]
    public void NumberOfWorkersAndTheTruth_ChangeNothing()
    {
        var folder = Copy("one");
        Run(folder, isScored: false, workers: 1);
        var alone = File.ReadAllText(Output);
        File.Delete(Path.Combine(folder, "truth.json"));
        Run(folder, isScored: false, workers: 4);
        Assert.Equal(alone, File.ReadAllText(Output));
    }

    [Fact]
    public void RowsThatHadNotArrived_ChangeNoPrediction()
    {
        var folder = Copy("one");
        var whole = ReplayFolder.Load(folder);
        var cut = whole.Cuts[whole.Cuts.Count / 2];
        var before = Predictor.At(whole, cut);
        var path = Path.Combine(folder, "readings.csv");
        File.WriteAllLines(path, File.ReadLines(path).Take(cut.Rows + 1).Append("s23,2026-01-01T00:00:00Z,1.5,99").ToList());
        Assert.Equal(before, Predictor.At(ReplayFolder.Load(folder), cut));
    }

    [Fact]
    public void FinishedBatches_MoveTheForecast_AndOneThatIsWrongIsNamed()
    {
        var folder = Copy("one");
        var path = Path.Combine(folder, "meta.json");
        var plain = ReplayFolder.Load(folder);
        void Told(string list) => File.WriteAllText(path, File.ReadAllText(Recorded + "/meta.json").Replace("\"kind\"", $"\"finished_batches\": {list}, \"kind\"", StringComparison.Ordinal));

        Told("""[{"kind": "wine", "original_gravity": 1.09, "final_gravity": 0.9985}, {"kind": "wine", "original_gravity": 1.1, "final_gravity": 0.998, "tolerance_abv": 17}]""");
        var own = ReplayFolder.Load(folder);
        Assert.Equal(2, Assert.Single(own.Prior.Learned).Count);
        var cut = own.Cuts[own.Cuts.Count / 3];
        Assert.True(Predictor.At(own, cut).FinalGravity.P50 > Predictor.At(plain, cut).FinalGravity.P50 + 0.0005, "the median hardly moved");

        Told("""[{"kind": "wine", "original_gravity": 1.09, "final_gravity": 9.98}]""");
        var (exit, _, progress) = Run(folder, isScored: false);
        Assert.Equal(SettingsResult.ExitCode, exit);
        Assert.Contains("finished_batches[0]: 'final_gravity' is 9.98; it must be a number from 0.97 to 1.15", progress, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("meta.json", "\"kind\": \"wine\"", "\"kind\": \"beer\"", "'kind' is \"beer\"; it must be 'wine', 'mead' or 'cider'")]
    [InlineData("meta.json", "\"pitched\"", "\"begun\"", "'pitched' is missing; it must be the moment of the inoculation")]
    [InlineData("meta.json", "{", "[", "not valid JSON")]
    [InlineData("readings.csv", "temperature_c", "celsius", "the column 'temperature_c' is missing")]
    [InlineData("truth.json", "\"end_h\"", "\"end\"", "'end_h' is missing")]
    public void FileThatIsWrong_IsNamedWithWhatWouldBeRight(string file, string was, string now, string expected)
    {
        var folder = Copy("one");
        var path = Path.Combine(folder, file);
        var text = File.ReadAllText(path);
        Assert.Contains(was, text, StringComparison.Ordinal);
        File.WriteAllText(path, text.Replace(was, now, StringComparison.Ordinal));
        var (exit, _, progress) = Run(folder, isScored: true);
        Assert.Equal(SettingsResult.ExitCode, exit);
        Assert.Contains(path, progress, StringComparison.Ordinal);
        Assert.Contains(expected, progress, StringComparison.Ordinal);
        Assert.False(File.Exists(Output), "a file was written although nothing could be predicted");
    }

    [Fact]
    public void FolderWithoutARecording_IsRefused()
    {
        Assert.Equal(2, Run(_folder, isScored: false).Exit);
        Assert.Equal(2, Run(Path.Combine(_folder, "nowhere"), isScored: false).Exit);
        var twice = Directory.CreateDirectory(Path.Combine(_folder, "twice")).FullName;
        Copy("twice/a");
        Copy("twice/b");
        Assert.Contains("Two recordings have the name 's23'", Run(twice, isScored: false).Progress, StringComparison.Ordinal);
        File.Delete(Path.Combine(twice, "a", "truth.json"));
        Assert.Contains("--score needs the truth", Run(Path.Combine(twice, "a"), isScored: true).Progress, StringComparison.Ordinal);
    }

    [Fact]
    public void RowsThatCannotBeRead_KeepTheirPlaceAndAreTold()
    {
        var folder = Copy("one");
        var path = Path.Combine(folder, "readings.csv");
        var lines = File.ReadAllLines(path);
        var cells = lines[5].Split(',');
        lines[5] = string.Join(',', cells[0], "yesterday", cells[2], cells[3]);
        lines[6] = string.Join(',', lines[6].Split(',')[..2]) + ",nan,inf";
        File.WriteAllLines(path, lines);
        var (exit, _, progress) = Run(folder, isScored: false);
        Assert.Equal(0, exit);
        Assert.Contains($"Note: s23: 2 of {lines.Length - 1} rows are not read wholly. {path}, line 6: the time 'yesterday' cannot be read.", progress, StringComparison.Ordinal);
    }

    private string Copy(string name)
    {
        var folder = Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;
        foreach (var file in Directory.GetFiles(Recorded))
        {
            File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
        }

        return folder;
    }

    private (int Exit, string Result, string Progress) Run(string folder, bool isScored, int workers = 2)
    {
        using var result = new StringWriter();
        using var progress = new StringWriter();
        return (BacktestCommand.Run(folder, Output, isScored, [], workers, result, progress, Stop), result.ToString(), progress.ToString());
    }
}
