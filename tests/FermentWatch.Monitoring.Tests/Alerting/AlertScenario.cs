using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>A notice that a scenario expects: when it leaves the outbox, and which.</summary>
public sealed record ExpectedNotice(TimeSpan At, string Title);

/// <summary>A story of readings and what must be said about it, in lines of words: see Scenarios/README.md.</summary>
public sealed class AlertScenario
{
    private long _sequence;

    private AlertScenario()
    {
    }

    public DateTimeOffset Start { get; private set; } = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    public TimeZoneInfo Zone { get; private set; } = TimeZoneInfo.Utc;

    public TemperatureBand? Band { get; private set; }

    public FermentKind Kind { get; private set; } = FermentKind.Mead;

    public SpecificGravity? OriginalGravity { get; private set; }

    /// <summary>The yeast's tolerance as the maker told it at each time.</summary>
    public List<(TimeSpan From, AlcoholByVolume Tolerance)> Tolerances { get; } = [];

    /// <summary>Rules that are on; empty for all.</summary>
    public List<string> Rules { get; } = [];

    public List<JournalEntry> Journal { get; } = [];

    /// <summary>Whether it tells of more than temperatures and silence: those need no more than the readings.</summary>
    public bool NeedsTheWholeView => Journal.Count > 0 || OriginalGravity is not null || Tolerances.Count > 0 || Rules.Exists(rule => rule is "no-start" or "stuck" or "ready-to-stabilize" or "ph-low" or "fermenting-again" or "sensor-implausible" or "step-found" or "nutrient-due" or "battery-low" or "forecast-moved" or "sugar-mixing") || Work.Count > 0;

    public TimeSpan Tick { get; private set; } = TimeSpan.FromMinutes(5);

    public TimeSpan Until { get; private set; }

    public List<SensorAttachment> Sensors { get; } = [];

    public List<ScenarioReading> Readings { get; } = [];

    public List<(TimeSpan From, TimeSpan Until)> Down { get; } = [];

    /// <summary>When no message can reach the service.</summary>
    public List<(TimeSpan From, TimeSpan Until)> BrokerLost { get; } = [];

    /// <summary>When somebody works on the vessel.</summary>
    public List<WorkSpan> Work { get; } = [];

    public List<(TimeSpan At, TimeSpan Jump)> Jumps { get; } = [];

    public List<TimeSpan> Acknowledged { get; } = [];

    public List<ExpectedNotice> Expected { get; } = [];

    public static AlertScenario Parse(string text)
    {
        var scenario = new AlertScenario();
        foreach (var line in text.Split('\n').Select(line => line.Split('#')[0].Trim()).Where(line => line.Length > 0))
        {
            scenario.Take(new Queue<string>(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)), line);
        }

        return scenario.Until > TimeSpan.Zero ? scenario : throw new FormatException("A scenario needs a line 'until'.");
    }

    private void Take(Queue<string> words, string line)
    {
        switch (words.Dequeue())
        {
            case "start":
                Start = DateTimeOffset.Parse(words.Dequeue(), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal);
                break;
            case "zone":
                Zone = TimeZoneInfo.FindSystemTimeZoneById(words.Dequeue());
                break;
            case "band":
                Band = new TemperatureBand(Temperature.FromCelsius(Number(words.Dequeue())), Temperature.FromCelsius(Number(words.Dequeue())));
                break;
            case "kind":
                Kind = Enum.Parse<FermentKind>(words.Dequeue(), ignoreCase: true);
                break;
            case "og":
                OriginalGravity = SpecificGravity.FromRatio(Number(words.Dequeue()));
                break;
            case "tolerance":
                var percent = Number(words.Dequeue());
                Tolerances.Add((words.TryDequeue(out _) ? Span(words.Dequeue()) : TimeSpan.Zero, AlcoholByVolume.FromPercent(percent)));
                break;
            case "rules":
                while (words.TryDequeue(out var rule))
                {
                    Rules.Add(AlertRuleCatalog.Named(rule).Id);
                }

                break;
            case "journal":
                AddEntry(words);
                break;
            case "tick":
                Tick = Span(words.Dequeue());
                break;
            case "until":
                Until = Span(words.Dequeue());
                break;
            case "sensor":
                Sensors.Add(Attachment(words));
                break;
            case "ferment":
                AddFerment(words);
                break;
            case "temperature":
                AddReadings(QuantityKind.Temperature, words);
                break;
            case "acidity":
                AddReadings(QuantityKind.Acidity, words);
                break;
            case "battery":
                AddReadings(QuantityKind.Battery, words);
                break;
            case "gas":
                AddReadings(QuantityKind.GasPulses, words);
                break;
            case "pressure":
                AddReadings(QuantityKind.Pressure, words);
                break;
            case "gravity":
                AddReadings(QuantityKind.Gravity, words);
                break;
            case "down":
                Down.Add((Span(words.Dequeue()), Span(words.Dequeue())));
                break;
            case "clock":
                Jumps.Add((Span(words.Dequeue()), Span(words.Dequeue())));
                break;
            case "broker-lost":
                BrokerLost.Add((Span(words.Dequeue()), Span(words.Dequeue())));
                break;
            case "work":
                Work.Add(new WorkSpan(EventTime.From(Start + Span(words.Dequeue())), EventTime.From(Start + Span(words.Dequeue()))));
                break;
            case "acknowledge":
                Acknowledged.Add(Span(words.Dequeue()));
                break;
            case "notice":
                Expected.Add(new ExpectedNotice(Span(words.Dequeue()), words.Dequeue()));
                break;
            default:
                throw new FormatException($"A scenario has no line like '{line}'.");
        }

        if (words.Count > 0)
        {
            throw new FormatException($"'{words.Peek()}' is left over in '{line}'.");
        }
    }

    private SensorAttachment Attachment(Queue<string> words)
    {
        var sensor = new SensorId(words.Dequeue());
        var placement = words.Dequeue() switch
        {
            "in-liquid" => Placement.InLiquid,
            "insulated" => Placement.InsulatedOnGlass,
            "bare-glass" => Placement.BareGlass,
            "room" => Placement.Room,
            var other => throw new FormatException($"No placement '{other}'."),
        };
        var from = EventTime.From(Start);
        EventTime? until = null;
        while (words.TryDequeue(out var word))
        {
            var at = EventTime.From(Start + Span(words.Dequeue()));
            (from, until) = word == "from" ? (at, until) : (from, at);
        }

        return new SensorAttachment(sensor, from, until, placement);
    }

    /// <summary>A fall that slows down, with the jitter of a sensor: see the notation.</summary>
    private void AddFerment(Queue<string> words)
    {
        var sensor = new SensorId(words.Dequeue());
        var (start, end) = (Number(words.Dequeue()), Number(words.Dequeue()));
        var half = Span(words.Dequeue());
        var (at, until, every, lag) = (TimeSpan.Zero, TimeSpan.Zero, TimeSpan.FromHours(1), TimeSpan.FromHours(18));
        while (words.TryDequeue(out var word))
        {
            switch (word)
            {
                case "from":
                    at = Span(words.Dequeue());
                    lag = at;
                    break;
                case "until":
                    until = Span(words.Dequeue());
                    break;
                case "every":
                    every = Span(words.Dequeue());
                    break;
                default:
                    throw new FormatException($"A ferment has no word '{word}'.");
            }
        }

        for (var i = 0; at < until; i++, at += every)
        {
            // Slow to begin, as yeast grows first; the jitter is a fixed pattern of ±0.0004.
            var past = Math.Max(0, (at - lag) / half);
            var left = Math.Pow(2, -past) * (1 + (past * Math.Log(2)));
            var jitter = 0.0001 * ((i * 7 % 9) - 4);
            Readings.Add(new ScenarioReading(sensor, QuantityKind.Gravity, at, at, IsStamped: false, end + ((start - end) * left) + jitter, ++_sequence));
        }
    }

    private void AddEntry(Queue<string> words)
    {
        var at = EventTime.From(Start + Span(words.Dequeue()));
        var kind = (JournalCatalog.Find(words.Peek()) ?? throw new FormatException($"No kind of entry '{words.Peek()}'.")).Kind;
        words.Dequeue();
        var values = new List<JournalValue>();
        SpecificGravity? gravity = null;
        while (words.TryDequeue(out var pair))
        {
            var parts = pair.Split('=');
            if (parts[0] == "gravity")
            {
                gravity = SpecificGravity.FromRatio(Number(parts[1]));
            }
            else
            {
                values.Add(double.TryParse(parts[1], CultureInfo.InvariantCulture, out var number) ? new JournalValue(parts[0], number, null) : new JournalValue(parts[0], null, parts[1]));
            }
        }

        Journal.Add(new JournalEntry(Journal.Count + 1, kind, at, "", gravity, null, false) { Values = ValueList.Of<JournalValue>(values) });
    }

    private void AddReadings(QuantityKind quantity, Queue<string> words)
    {
        var sensor = new SensorId(words.Dequeue());
        var (at, every, arrive, isStamped) = (TimeSpan.Zero, TimeSpan.FromMinutes(15), (TimeSpan?)null, false);
        while (words.TryDequeue(out var word))
        {
            switch (word)
            {
                case "from":
                    at = Span(words.Dequeue());
                    break;
                case "every":
                    every = Span(words.Dequeue());
                    break;
                case "arrive":
                    arrive = Span(words.Dequeue());
                    break;
                case "stamped":
                    isStamped = true;
                    break;
                default:
                    var parts = word.Split('*');
                    for (var i = 0; i < (parts.Length > 1 ? (int)Number(parts[1]) : 1); i++, at += every)
                    {
                        Readings.Add(new ScenarioReading(sensor, quantity, at, arrive ?? at, isStamped, Number(parts[0]), ++_sequence));
                    }

                    break;
            }
        }
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    /// <summary>'2h45m', '90s', '-2h', '3d'.</summary>
    public static TimeSpan Span(string text)
    {
        var (sum, digits) = (TimeSpan.Zero, "");
        foreach (var letter in text.TrimStart('-', '+'))
        {
            if (char.IsAsciiDigit(letter))
            {
                digits += letter;
                continue;
            }

            var count = Number(digits);
            digits = "";
            sum += letter switch
            {
                'd' => TimeSpan.FromDays(count),
                'h' => TimeSpan.FromHours(count),
                'm' => TimeSpan.FromMinutes(count),
                's' => TimeSpan.FromSeconds(count),
                _ => throw new FormatException($"'{text}' is no length of time."),
            };
        }

        return text.StartsWith('-') ? -sum : sum;
    }
}

/// <summary>A reading of a scenario, in time since its start by a clock that never jumps.</summary>
public sealed record ScenarioReading(
    SensorId Sensor,
    QuantityKind Quantity,
    TimeSpan TakenAt,
    TimeSpan ArrivesAt,
    bool IsStamped,
    double Value,
    long Sequence);
