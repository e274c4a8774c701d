using FermentWatch.Infrastructure.Influx;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using Microsoft.Extensions.Logging;
using Xunit;
using static FermentWatch.System.Tests.Influx.CopiedStore;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Influx;

/// <summary>What a server that is there and does not want can do to the copy.</summary>
public sealed class CopyFaultTests
{
    [Fact]
    public async Task LineThatTheServerRefuses_IsLeftOutAndToldAndTheOthersArrive()
    {
        await using var server = await InfluxOne.StartAsync();
        // Points older than a database keeps are refused there with 400, while others are taken.
        await server.ChangeAsync($"CREATE RETENTION POLICY brief ON {InfluxOne.Database} DURATION 520w REPLICATION 1 DEFAULT");
        await using var disk = Open();
        using var target = server.Target();
        await FillAsync(disk, 1, 20);
        await disk.ReadingAsync(1.05, EventTime.From(new DateTimeOffset(2014, 1, 1, 0, 0, 0, TimeSpan.Zero)), 1);
        var old = EventTime.From(new DateTimeOffset(2013, 1, 1, 0, 0, 0, TimeSpan.Zero));
        var field = Gravity(1.0444, old);
        await disk.Store.ImportAsync([[new Infrastructure.Storage.ImportedReading(field, old, Arrival(0), true)]], _ => { }, Stop);
        var copier = Copier(disk, target);

        var (result, isLast) = await copier.StepAsync(Stop);

        Assert.True(isLast && result.Trouble is null);
        Assert.Contains("1.0444", Assert.Single(result.SetAside), StringComparison.Ordinal);
        Assert.Equal(41, result.Points);
        Assert.Equal(0, disk.Store.ReadChangeBacklog().Changes);
    }

    [Fact]
    public async Task WrongBucket_LeavesNothingOutAndGoesOnOnceItIsThere()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target(settings => settings with { Bucket = "not-there" });
        await FillAsync(disk, 1, 20);
        var copier = Copier(disk, target);

        var (result, _) = await copier.StepAsync(Stop);

        Assert.Contains("404", InfluxCopier.ProblemOf(result.Trouble), StringComparison.Ordinal);
        Assert.Empty(result.SetAside);
        Assert.False(copier.Status.IsUp);
        Assert.True(disk.Store.ReadChangeBacklog().Changes > 0);
        await server.ChangeAsync("CREATE DATABASE \"not-there\"");
        Assert.Equal(40, await CopyAllAsync(copier));
        Assert.True(copier.Status.IsUp);
    }

    [Fact]
    public async Task ServerThatRefusesWhateverItIsGiven_LosesNothing()
    {
        await using var refuser = await AnsweringServer.StartAsync(400);
        await using var disk = Open();
        await FillAsync(disk, 1, 6);
        using var target = new InfluxTarget(refuser.Settings, TimeProvider.System);
        var copier = Copier(disk, target);

        var (result, _) = await copier.StepAsync(Stop);

        Assert.IsType<WriteOutcome.Refused>(result.Trouble);
        Assert.Empty(result.SetAside);
        Assert.Equal(0, copier.Status.SetAside);
    }

    [Theory]
    [InlineData(401)]
    [InlineData(403)]
    [InlineData(429)]
    [InlineData(500)]
    [InlineData(503)]
    public async Task ServerThatAnswersWithAFault_IsTriedAgainAndItsTokenIsNeverTold(int status)
    {
        await using var server = await AnsweringServer.StartAsync(status);
        await using var disk = Open();
        await FillAsync(disk, 1, 6);
        using var target = new InfluxTarget(server.Settings with { Token = "canary-token-1" }, TimeProvider.System);

        var (result, _) = await Copier(disk, target).StepAsync(Stop);

        var problem = InfluxCopier.ProblemOf(result.Trouble)!;
        Assert.Contains(status.ToString(global::System.Globalization.CultureInfo.InvariantCulture), problem, StringComparison.Ordinal);
        Assert.DoesNotContain("canary", problem, StringComparison.Ordinal);
        Assert.Equal("Token canary-token-1", server.LastAuthorization);
        Assert.Equal(status is 500 or 503 ? 4 : 1, server.Requests);
    }

    [Fact]
    public async Task Loss_IsToldOnceAndSoIsTheReturn()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        await FillAsync(disk, 1, 5);
        using var target = server.Target();
        var copier = Copier(disk, target);
        using var signals = new PipelineSignals();
        var log = new KeptLog();
        server.Kill();
        using var loop = new CopyLoop(disk.Store, copier, signals, TimeProvider.System, log);
        await loop.StartAsync(Stop);
        await Mqtt.Eventually.TrueAsync(() => log.Lines.Count > 0, "the loss is told");
        await server.StartAgainAsync();
        await Mqtt.Eventually.TrueAsync(() => copier.Status.IsUp && log.Lines.Count > 1, () => "the copy goes on. " + string.Join('\n', log.Lines));
        await loop.StopAsync(Stop);

        Assert.Equal(2, log.Lines.Count);
        Assert.StartsWith("Warning: The copy waits: not reached", log.Lines[0], StringComparison.Ordinal);
        Assert.StartsWith("Information: The copy goes on", log.Lines[1], StringComparison.Ordinal);
        AssertSame(Held(disk.Store), await HeldAsync(server));
    }

    private sealed class KeptLog : ILogger<CopyLoop>
    {
        public List<string> Lines { get; } = [];

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Lines.Add($"{logLevel}: {formatter(state, exception)}");
    }
}
