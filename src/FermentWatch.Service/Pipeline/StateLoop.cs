using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Pipeline;

/// <summary>Tells phase and forecast of every batch at the broker, retained, whenever they change. See <c>deploy/mqtt.md</c>.</summary>
public sealed class StateLoop(Board board, BrokerLink broker, StateSettings settings, TimeProvider clock, ILogger<StateLoop> logger) : SupervisedLoop(clock, logger)
{
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(2);
    private readonly Dictionary<string, string> _told = [];
    private bool _isLost;

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            await Task.Delay(Look, stoppingToken);
            var states = board.State.Snapshot.Entries.SelectMany(entry => StateWriter.Of(settings.Site, entry.View)).ToDictionary(state => state.Topic, state => state.Json);
            // A batch that was put away is taken back: an empty retained message (MQTT 5, section 3.3.1.3).
            foreach (var gone in _told.Keys.Where(topic => !states.ContainsKey(topic)))
            {
                states[gone] = string.Empty;
            }

            var news = states.Where(state => _told.GetValueOrDefault(state.Key) != state.Value).Select(state => new StateMessage(state.Key, global::System.Text.Encoding.UTF8.GetBytes(state.Value))).ToList();
            if (news.Count == 0 || !broker.IsUp)
            {
                continue;
            }

            var problem = await broker.LeaveAsync(news, stoppingToken);
            if (problem is null)
            {
                foreach (var (topic, json) in states)
                {
                    _told[topic] = json;
                }

                foreach (var gone in states.Where(state => state.Value.Length == 0))
                {
                    _told.Remove(gone.Key);
                }
            }

            Tell(problem?.Code);
        }
    }

    private void Tell(string? problem)
    {
        if (problem is not null && !_isLost)
        {
            Logger.LogWarning("Phases and forecasts could not be told at the broker: {Reason}. They are told once it takes them", problem);
        }
        else if (problem is null && _isLost)
        {
            Logger.LogInformation("Phases and forecasts are told at the broker again");
        }

        _isLost = problem is not null;
    }
}
