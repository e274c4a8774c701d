using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>The mappings that hold now: those of the configuration, and those made on the page. Safe to use from any thread.</summary>
public sealed class MappingBook : IDisposable
{
    private readonly ValueList<TopicMapping> _fixed;
    private readonly Store _store;
    private readonly PipelineSignals _signals;
    private readonly SemaphoreSlim _changing = new(1, 1);
    private volatile IReadOnlyList<TopicMapping> _active = [];
    private volatile IReadOnlyList<StoredMapping> _made = [];

    /// <summary>Reads what was made on the page.</summary>
    /// <param name="configured">Mappings of the configuration; they change only there.</param>
    /// <param name="store">Keeps those of the page.</param>
    /// <param name="signals">Told which batches a change reached.</param>
    public MappingBook(ValueList<TopicMapping> configured, Store store, PipelineSignals signals)
    {
        ArgumentNullException.ThrowIfNull(store);
        (_fixed, _store, _signals) = (configured, store, signals);
        Take();
    }

    /// <summary>Raised after the mappings changed, on the thread that changed them.</summary>
    public event Action? Changed;

    /// <summary>Every mapping that reads.</summary>
    public IReadOnlyList<TopicMapping> Active => _active;

    /// <summary>Mappings of the configuration.</summary>
    public ValueList<TopicMapping> Configured => _fixed;

    /// <summary>Mappings made on the page that read.</summary>
    public IReadOnlyList<StoredMapping> Made => _made;

    /// <summary>Whether any mapping wants a topic.</summary>
    public bool Wants(string topic) => _active.Any(mapping => mapping.Filter.Matches(topic));

    /// <summary>Finishes changes of unit that a stop cut short.</summary>
    public async Task ResumeAsync(CancellationToken cancellationToken) => Tell(await _store.ApplyUnitChangesAsync(cancellationToken));

    /// <summary>
    /// Reads one more number. When the page has a mapping of the same sensor on the same topic, the number joins it:
    /// one sensor on one topic is one mapping.
    /// </summary>
    /// <returns>Null when it was done, or the quantity that another mapping gives of this sensor already.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<QuantityKind?> AddAsync(string sensor, TopicFilter filter, FieldMapping field, TimeMapping? time, CancellationToken cancellationToken) => ChangeAsync<QuantityKind?>(
        async () =>
        {
            if (_active.Any(mapping => mapping.Sensor == sensor && mapping.Fields.Any(other => other.Quantity == field.Quantity)))
            {
                return field.Quantity;
            }

            var joins = _made.FirstOrDefault(made => made.Mapping.Sensor == sensor && made.Mapping.Filter.Text == filter.Text);
            if (joins is null)
            {
                await _store.AddMappingAsync(new TopicMapping(sensor, filter, ValueList.Of<FieldMapping>(field), time), cancellationToken);
            }
            else
            {
                var fields = ValueList.Of<FieldMapping>([.. joins.Mapping.Fields, field]);
                await _store.ReplaceMappingAsync(joins.Id, new TopicMapping(sensor, filter, fields, time ?? joins.Mapping.Time), cancellationToken);
            }

            return null;
        },
        cancellationToken);

    /// <summary>Retires a mapping of the page; its readings stay.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<bool> RetireAsync(long id, CancellationToken cancellationToken) =>
        ChangeAsync(() => _store.RetireMappingAsync(id, cancellationToken), cancellationToken);

    /// <summary>Puts the unit of a number right, and computes what was read before anew from the raw numbers.</summary>
    /// <returns>How many readings were computed anew; null when there is no such mapping or number.</returns>
    /// <exception cref="StorageUnavailableException">It was not changed, or not all of the readings yet: the rest follows at the next start.</exception>
    public async Task<int?> ChangeUnitAsync(long id, QuantityKind quantity, MeasurementUnit unit, CancellationToken cancellationToken)
    {
        var isChanged = await ChangeAsync(() => NoteUnitAsync(id, quantity, unit, cancellationToken), cancellationToken);
        if (!isChanged)
        {
            return null;
        }

        var report = await _store.ApplyUnitChangesAsync(cancellationToken);
        Tell(report);
        return report.Readings;
    }

    /// <inheritdoc/>
    public void Dispose() => _changing.Dispose();

    private async Task<bool> NoteUnitAsync(long id, QuantityKind quantity, MeasurementUnit unit, CancellationToken cancellationToken)
    {
        if (_made.FirstOrDefault(made => made.Id == id)?.Mapping is not { } was || was.Fields.FirstOrDefault(field => field.Quantity == quantity) is not { } old)
        {
            return false;
        }

        var fields = ValueList.Of(was.Fields.Select(field => field == old ? new FieldMapping(old.Source, quantity, unit) : field));
        var change = new UnitChange(new SeriesKey(new SensorId(was.Sensor), quantity), old.Unit, unit);
        return await _store.ChangeUnitAsync(id, new TopicMapping(was.Sensor, was.Filter, fields, was.Time), change, cancellationToken);
    }

    private async Task<T> ChangeAsync<T>(Func<Task<T>> change, CancellationToken cancellationToken)
    {
        await _changing.WaitAsync(cancellationToken);
        try
        {
            var answer = await change();
            Take();
            Changed?.Invoke();
            return answer;
        }
        finally
        {
            _changing.Release();
        }
    }

    private void Take()
    {
        _made = [.. _store.ReadMappings().Where(made => made.RetiredAt is null)];
        _active = [.. _fixed, .. _made.Select(made => made.Mapping)];
    }

    private void Tell(UnitChangeReport report)
    {
        if (report.Batches.Count > 0)
        {
            _signals.Touch(report.Batches);
        }
    }
}
