using System.Globalization;
using System.Text;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Listening;

/// <summary>What the page of the listening list shows at one moment.</summary>
/// <param name="Fresh">Topics that nobody mapped.</param>
/// <param name="Ignored">Topics that are not shown.</param>
/// <param name="Made">Mappings made on the page.</param>
/// <param name="Configured">Mappings of the configuration.</param>
/// <param name="Batches">Batches to which a sensor can be attached here.</param>
/// <param name="Problem">Why nothing can be heard; null while all is well.</param>
/// <param name="Topics">Topics that were recorded, with their last message.</param>
public sealed record ListeningState(
    IReadOnlyList<UnmappedTopic> Fresh,
    IReadOnlyList<string> Ignored,
    IReadOnlyList<StoredMapping> Made,
    IReadOnlyList<TopicMapping> Configured,
    IReadOnlyList<Batch> Batches,
    Reason? Problem,
    IReadOnlyList<TopicSummary> Topics)
{
    /// <summary>Which topics the list is about.</summary>
    public required TopicFilter Scope { get; init; }

    /// <summary>Sensors that the page reads from the chosen topic, each with the batch in which it is now, or none.</summary>
    public IReadOnlyList<(string Sensor, Batch? Batch)> Connected { get; init; } = [];

    /// <summary>The topic that was chosen; null for none.</summary>
    public HeardTopic? Chosen { get; init; }

    /// <summary>What is shown now.</summary>
    public static ListeningState Read(IServiceProvider services, string? topic)
    {
        ArgumentNullException.ThrowIfNull(services);
        var listening = services.GetRequiredService<Pipeline.Listening>();
        var store = services.GetRequiredService<Store>();
        var book = services.GetRequiredService<MappingBook>();
        var fromFile = services.GetRequiredService<ConfiguredBatches>();
        var topics = store.ReadTopics();
        var batches = store.ReadBatches();
        return new ListeningState(
            listening.Look(),
            store.ReadIgnoredTopics(),
            book.Made,
            book.Configured,
            [.. batches.Where(batch => !fromFile.Ids.Contains(batch.Id))],
            listening.Problem,
            topics)
        {
            Scope = services.GetRequiredService<ListeningScope>().Filter,
            Connected = [.. book.Made.Where(made => topic is not null && made.Mapping.Filter.Matches(topic)).Select(made => made.Mapping.Sensor).Distinct(StringComparer.Ordinal)
                .Select(sensor => (sensor, batches.FirstOrDefault(batch => batch.Sensors.Any(one => one.Sensor.Value == sensor && one.Until is null))))],
            Chosen = topic is null ? null : HeardTopic.Of(topic, listening.Find(topic), topics.FirstOrDefault(summary => summary.Topic == topic)),
        };
    }

    /// <summary>The last message recorded under a mapping; null before the first.</summary>
    public TopicSummary? LastOf(TopicMapping mapping) => Topics.Where(topic => mapping.Filter.Matches(topic.Topic)).MaxBy(topic => topic.LastReceivedAt.UnixMicroseconds);

    /// <summary>What a number is mapped to, or null.</summary>
    public FieldMapping? UsedAs(string topic, JsonPointer? source) => Made.Select(made => made.Mapping).Concat(Configured)
        .Where(mapping => mapping.Filter.Matches(topic))
        .SelectMany(mapping => mapping.Fields)
        .FirstOrDefault(field => field.Source?.Text == source?.Text);

    /// <summary>A name for the sensor on a topic: what the page called it before, else the last level that says something.</summary>
    public string SuggestName(string topic)
    {
        ArgumentNullException.ThrowIfNull(topic);
        if (Made.FirstOrDefault(made => made.Mapping.Filter.Text == topic) is { } known)
        {
            return known.Mapping.Sensor;
        }

        var levels = topic.Split('/').Select(Clean).Where(level => level.Length > 0).ToList();
        var telling = levels.Where(level => !new FieldName(level).IsQuantity).ToList();
        var name = telling.Count > 0 ? telling[^1] : levels.Count > 0 ? levels[^1] : "sensor";
        return Made.Any(made => made.Mapping.Sensor == name) && levels.Count > 1 ? string.Join(' ', levels.TakeLast(2)) : name;
    }

    private static string Clean(string level)
    {
        var kept = new string([.. level.Where(letter => !char.IsControl(letter) && letter is not ('{' or '}'))]).Trim();
        return kept.Length <= 40 ? kept : kept[..40];
    }
}

/// <summary>A topic with its last messages.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="Payload">The last message, or what is kept of it.</param>
/// <param name="Size">Its size in bytes.</param>
/// <param name="ReceivedAt">When it came.</param>
/// <param name="Interval">Usual time between messages, or null.</param>
/// <param name="Earlier">Messages before it, newest first.</param>
public sealed record HeardTopic(
    string Topic, ReadOnlyMemory<byte> Payload, int Size, DateTimeOffset ReceivedAt, TimeSpan? Interval, IReadOnlyList<ReadOnlyMemory<byte>> Earlier)
{
    /// <summary>What can be mapped in the last message.</summary>
    public ValueList<PayloadValue> Values => PayloadNumbers.In(Payload.Span);

    /// <summary>The last message as text.</summary>
    public string Text => Encoding.UTF8.GetString(Payload.Span);

    /// <summary>From what was heard, or else from the last message that was recorded; null when there is neither.</summary>
    public static HeardTopic? Of(string topic, UnmappedTopic? heard, TopicSummary? recorded) =>
        heard is not null
            ? new HeardTopic(topic, heard.Payload, heard.Size, heard.ReceivedAt.ToDateTimeOffset(), heard.Interval, [.. heard.Recent.Skip(1).Select(message => message.Payload)])
            : recorded is not null
                ? new HeardTopic(topic, recorded.FirstBytes, recorded.LastSize, recorded.LastReceivedAt.ToDateTimeOffset(), null, [])
                : null;

    /// <summary>The same number in the messages before, newest first.</summary>
    public IReadOnlyList<double> Before(JsonPointer? source) => [.. Earlier.Select(payload => PayloadNumbers.At(payload.Span, source)).OfType<double>()];

    /// <summary>What a number may be, likeliest first.</summary>
    public ValueList<UnitGuess> Guesses(PayloadValue value) =>
        UnitGuess.For((value ?? throw new ArgumentNullException(nameof(value))).Number!.Value, value.Source is null ? Topic : value.Name, Before(value.Source));

    /// <summary>The number in the unit in which it is kept: '1.048' for 12 °Bx.</summary>
    public static string Converted(double number, MeasurementUnit unit)
    {
        var value = UnitConversion.ToCanonical(number, unit);
        return UnitConversion.QuantityOf(unit) switch
        {
            QuantityKind.Gravity => value.ToString("F4", CultureInfo.InvariantCulture) + Figures.NoBreak + "SG",
            QuantityKind.Temperature => Figures.Measured(Math.Round(value, 1), MeasurementUnit.DegreesCelsius),
            QuantityKind.Battery => Figures.Measured(value, unit),
            var quantity => Figures.Measured(value, UnitConversion.UnitsOf(quantity)[0]),
        };
    }

    /// <summary>How a unit is called in a form.</summary>
    public static string Word(MeasurementUnit unit) => SettingWords.Of(unit);
}

/// <summary>A level of a topic.</summary>
internal readonly record struct FieldName(string Level)
{
    /// <summary>Whether it only says what is measured, so that it does not tell one sensor from another.</summary>
    public bool IsQuantity => UnitGuess.NamesQuantity(Level);
}
