using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Care;

/// <summary>Tells the log when a part of the service is lost, and when it is back: one line each.</summary>
public sealed class HealthLoop(HealthReader health, TimeProvider clock, ILogger<HealthLoop> logger) : SupervisedLoop(clock, logger)
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(15);
    private readonly Dictionary<string, Condition> _was = [];

    /// <summary>Compares with what was told last.</summary>
    public void Tell(HealthReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        foreach (var check in report.Checks)
        {
            var was = _was.GetValueOrDefault(check.Name, Condition.Ok);
            _was[check.Name] = check.Condition;
            if (check.Condition > was)
            {
                Logger.Log(check.Condition == Condition.Failing ? LogLevel.Error : LogLevel.Warning, "Lost: {Part}: {Says}", check.Name, check.Says);
            }
            else if (check.Condition < was)
            {
                Logger.LogInformation("Back: {Part}: {Says}", check.Name, check.Says);
            }
        }
    }

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            // First a wait: a start is no loss.
            await Task.Delay(Look, stoppingToken);
            Tell(health.Read());
        }
    }
}
