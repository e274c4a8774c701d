using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>Whether a field of a mapping could be changed.</summary>
public enum FieldChangeFate
{
    /// <summary>It was.</summary>
    Done = 1,

    /// <summary>There is no such mapping or field.</summary>
    NoSuchField,

    /// <summary>The sensor gives the other quantity already.</summary>
    Taken,
}

/// <summary>What a change of a field did.</summary>
/// <param name="Fate">Whether it was done.</param>
/// <param name="Readings">Readings computed anew.</param>
public readonly record struct FieldChange(FieldChangeFate Fate, int Readings);

/// <summary>The mappings that hold now: those of the configuration, and those made on the page. Safe to use from any thread.</summary>
public sealed class MappingBook : IDisposable
{
    private readonly ValueList<TopicMapping> _fixed;
    private readonly Store _store;
    private readonly PipelineSignals _signals;
    private readonly SemaphoreSlim _reaching = new(1, 1);
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

    /// <summary>Puts right what a number is, or its unit, and computes what was read before anew from the raw numbers.</summary>
    /// <param name="id">The mapping.</param>
    /// <param name="quantity">What it is taken for until now.</param>
    /// <param name="unit">What it is: the unit tells the quantity.</param>
    /// <param name="cancellationToken">Counts until the change is noted.</param>
    /// <exception cref="StorageUnavailableException">It was not changed, or not all of the readings yet: the rest follows at the next start.</exception>
    public async Task<FieldChange> ChangeUnitAsync(long id, QuantityKind quantity, MeasurementUnit unit, CancellationToken cancellationToken)
    {
        // One change reaches back at a time: the next one begins with what this one left.
        await _reaching.WaitAsync(cancellationToken);
        try
        {
            var fate = await ChangeAsync(() => NoteUnitAsync(id, quantity, unit, cancellationToken), cancellationToken);
            if (fate != FieldChangeFate.Done)
            {
                return new FieldChange(fate, 0);
            }

            var report = await _store.ApplyUnitChangesAsync(cancellationToken);
            Tell(report);
            return new FieldChange(fate, report.Readings);
        }
        finally
        {
            _reaching.Release();
        }
    }

    /// <summary>Reads another field of the messages for a quantity, also in those that came before, as far as they are kept.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public async Task<FieldChange> ChangeSourceAsync(long id, QuantityKind quantity, JsonPointer? source, CancellationToken cancellationToken)
    {
        await _reaching.WaitAsync(cancellationToken);
        try
        {
            var report = await ChangeAsync(
                async () =>
                {
                    if (FieldOf(id, quantity) is not ({ } was, { } old))
                    {
                        return null;
                    }

                    var field = new FieldMapping(source, quantity, old.Unit);
                    return await _store.ChangeSourceAsync(id, With(was, old, field), field, cancellationToken);
                },
                cancellationToken);
            _signals.Touch(report?.Batches ?? new HashSet<Monitoring.Batches.BatchId>());
            return report is null ? new FieldChange(FieldChangeFate.NoSuchField, 0) : new FieldChange(FieldChangeFate.Done, report.ReadAgain);
        }
        finally
        {
            _reaching.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _reaching.Dispose();

    private static TopicMapping With(TopicMapping was, FieldMapping old, FieldMapping field) =>
        new(was.Sensor, was.Filter, ValueList.Of(was.Fields.Select(one => one == old ? field : one)), was.Time);

    private (TopicMapping? Mapping, FieldMapping? Field) FieldOf(long id, QuantityKind quantity)
    {
        var mapping = _made.FirstOrDefault(made => made.Id == id)?.Mapping;
        return (mapping, mapping?.Fields.FirstOrDefault(field => field.Quantity == quantity));
    }

    private async Task<FieldChangeFate> NoteUnitAsync(long id, QuantityKind quantity, MeasurementUnit unit, CancellationToken cancellationToken)
    {
        if (FieldOf(id, quantity) is not ({ } was, { } old))
        {
            return FieldChangeFate.NoSuchField;
        }

        var field = new FieldMapping(old.Source, UnitConversion.QuantityOf(unit), unit);
        var change = new UnitChange(new SeriesKey(new SensorId(was.Sensor), quantity), old.Unit, unit);
        if (field.Quantity != quantity && (_active.Any(mapping => mapping.Sensor == was.Sensor && mapping.Fields.Any(other => other.Quantity == field.Quantity)) || _store.HasBoth(change)))
        {
            return FieldChangeFate.Taken;
        }

        return await _store.ChangeUnitAsync(id, With(was, old, field), change, cancellationToken) ? FieldChangeFate.Done : FieldChangeFate.NoSuchField;
    }

    private async Task<T> ChangeAsync<T>(Func<Task<T>> change, CancellationToken cancellationToken)
    {
        await _signals.Mappings.WaitAsync(cancellationToken);
        try
        {
            var answer = await change();
            Take();
            Changed?.Invoke();
            return answer;
        }
        finally
        {
            _signals.Mappings.Release();
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
