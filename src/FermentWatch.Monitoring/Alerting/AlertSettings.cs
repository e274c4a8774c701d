using FermentWatch.Monitoring.Alerting.Inhibitions;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>When alerts speak. The figures are common practice without a source: starting values, to be tuned on replays.</summary>
public sealed record AlertSettings
{
    /// <summary>As shipped.</summary>
    public static AlertSettings Default { get; } = new();

    /// <summary>The rule <c>temperature-band</c>.</summary>
    public TemperatureBandSettings TemperatureBand { get; init; } = new();

    /// <summary>The rule <c>temperature-danger</c>.</summary>
    public TemperatureDangerSettings TemperatureDanger { get; init; } = new();

    /// <summary>The rule <c>temperature-drop</c>.</summary>
    public TemperatureDropSettings TemperatureDrop { get; init; } = new();

    /// <summary>The rule <c>no-start</c>.</summary>
    public NoStartSettings NoStart { get; init; } = new();

    /// <summary>The rule <c>stuck</c>.</summary>
    public StuckSettings Stuck { get; init; } = new();

    /// <summary>The rules <c>ready-to-stabilize</c> and <c>ready-withdrawn</c>.</summary>
    public ReadySettings Ready { get; init; } = new();

    /// <summary>The rule <c>ph-low</c>.</summary>
    public AciditySettings Acidity { get; init; } = new();

    /// <summary>The rule <c>fermenting-again</c>.</summary>
    public RefermentSettings Referment { get; init; } = new();

    /// <summary>The rule <c>sugar-mixing</c>.</summary>
    public MixingSettings Mixing { get; init; } = new();

    /// <summary>The rule <c>sensor-implausible</c>.</summary>
    public ImplausibleSettings Implausible { get; init; } = new();

    /// <summary>The rule <c>waiting-over</c>.</summary>
    public WaitingSettings Waiting { get; init; } = new();

    /// <summary>The rule <c>sentinel-due</c>.</summary>
    public SentinelSettings Sentinel { get; init; } = new();

    /// <summary>The rule <c>care-due</c>.</summary>
    public CareSettings Care { get; init; } = new();

    /// <summary>The rule <c>sensor-silent</c>.</summary>
    public SensorSilentSettings SensorSilent { get; init; } = new();

    /// <summary>The rule <c>step-found</c>.</summary>
    public StepSettings Step { get; init; } = new();

    /// <summary>The rule <c>nutrient-due</c>.</summary>
    public NutrientSettings Nutrient { get; init; } = new();

    /// <summary>The rule <c>battery-low</c>.</summary>
    public BatterySettings Battery { get; init; } = new();

    /// <summary>The rule <c>forecast-moved</c>.</summary>
    public ForecastMovedSettings ForecastMoved { get; init; } = new();

    /// <summary>Waiting times and limits of the gates, which stand beside the alerts.</summary>
    public GateSettings Gates { get; init; } = new();

    /// <summary>What keeps which alert silent.</summary>
    public ValueList<Inhibition> Inhibitions { get; init; } = InhibitionCatalog.All;

    /// <summary>Hours in which what can wait is held back; null for none.</summary>
    public QuietHours? QuietHours { get; init; } = QuietHours.Default;

    /// <summary>How long a notice waits, so that what belongs together goes out together and what clears at once stays unsent. 0 to 10 minutes.</summary>
    public TimeSpan GroupWait { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>How many notices a listener bears.</summary>
    public NoticeLimits Limits { get; init; } = new();

    /// <summary>Who looks after the cellar while its maker is away; null while nobody is.</summary>
    public AwayMode? Away { get; init; }

    /// <summary>Channels of the second person, who hears of an urgent alert that nobody took on for <see cref="NoticeLimits.SecondAfter"/>.</summary>
    public ValueList<string> Seconds { get; init; } = ValueList.Of<string>();

    /// <summary>Ids of the rules that are on; empty for all.</summary>
    public ValueList<string> Only { get; init; } = ValueList.Of<string>();

    /// <summary>Whether a rule is on.</summary>
    public bool IsOn(string rule) => Only.Count == 0 || Only.Contains(rule);

    /// <summary>Names of the channels that get every notice; empty when none is set up.</summary>
    public ValueList<string> Channels { get; init; } = ValueList.Of<string>();

    /// <summary>Channels of single listeners. With any of them the night is each listener's own, and <see cref="QuietHours"/> counts for <see cref="Channels"/> alone.</summary>
    public ValueList<PersonalChannel> Personal { get; init; } = ValueList.Of<PersonalChannel>();

    /// <summary>The night in which nobody at all is told what can wait; null when it differs from listener to listener.</summary>
    public QuietHours? CommonQuietHours => Personal.Count == 0 ? QuietHours : null;

    /// <summary>Everybody who listens: the channels of all, and those of single listeners.</summary>
    public IEnumerable<PersonalChannel> Listeners =>
        Channels.Select(name => new PersonalChannel(name, Personal.Count == 0 ? null : QuietHours)).Concat(Personal);
}

/// <summary>How often a notice comes again until it is acknowledged or cleared.</summary>
/// <param name="Every">Time between two; at least 1 hour.</param>
/// <param name="Times">How often at most; 0 for never.</param>
public sealed record RepeatSettings(TimeSpan Every, int Times)
{
    /// <summary>Time between two once <see cref="Times"/> are used up, without end; null for no more of them.</summary>
    public TimeSpan? ThenEvery { get; init; }
}

/// <summary>When a temperature outside the batch's band is an alert.</summary>
public sealed record TemperatureBandSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>On-delay of a sensor in the liquid or a thermowell.</summary>
    public TimeSpan OnDelayInLiquid { get; init; } = TimeSpan.FromMinutes(30);

    /// <summary>On-delay of a sensor on the glass under insulation.</summary>
    public TimeSpan OnDelayInsulated { get; init; } = TimeSpan.FromHours(3);

    /// <summary>On-delay of a sensor on bare glass.</summary>
    public TimeSpan OnDelayBareGlass { get; init; } = TimeSpan.FromHours(6);

    /// <summary>Samples that the on-delay needs as well; at least 1.</summary>
    public int OnSamples { get; init; } = 2;

    /// <summary>How long after 'handled' or 'moved' it is silent while the temperature moves the right way.</summary>
    public TimeSpan AfterHandled { get; init; } = TimeSpan.FromHours(12);

    /// <summary>How far back inside the band clears it. [°C]</summary>
    public double ClearMarginCelsius { get; init; } = 0.5;

    /// <summary>How long it must stay back inside.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromMinutes(60);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(12), 3);
}

/// <summary>When a sensor that is not heard is an alert.</summary>
public sealed record SensorSilentSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Intervals without a temperature; the longer of this and <see cref="TemperatureAtLeast"/> counts.</summary>
    public double TemperatureIntervals { get; init; } = 3;

    /// <summary>Shortest silence of a temperature that counts.</summary>
    public TimeSpan TemperatureAtLeast { get; init; } = TimeSpan.FromHours(2);

    /// <summary>Intervals without a gravity; the longer of this and <see cref="GravityAtLeast"/> counts.</summary>
    public double GravityIntervals { get; init; } = 12;

    /// <summary>Shortest silence of a gravity that counts.</summary>
    public TimeSpan GravityAtLeast { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Pauses within <see cref="HabitWithin"/> that make a habit: the shortest of that many longest ones is then expected. At least 1.</summary>
    public int HabitPauses { get; init; } = 3;

    /// <summary>How far back pauses count.</summary>
    public TimeSpan HabitWithin { get; init; } = TimeSpan.FromDays(7);

    /// <summary>The longest silence that a habit excuses; zero for none. Where silence would be urgent, no habit counts.</summary>
    public TimeSpan HabitAtMost { get; init; } = TimeSpan.FromHours(6);

    /// <summary>Interval assumed for a sensor that has not shown its own yet.</summary>
    public TimeSpan AssumedInterval { get; init; } = TimeSpan.FromMinutes(15);

    /// <summary>Once one sensor is silent, others count as silent with it after this many of their own intervals.</summary>
    public double CompanyIntervals { get; init; } = 3;

    /// <summary>Shortest silence that counts in the company of a silent sensor.</summary>
    public TimeSpan CompanyAtLeast { get; init; } = TimeSpan.FromHours(1);

    /// <summary>Readings that clear it; at least 1.</summary>
    public int ClearReadings { get; init; } = 2;

    /// <summary>Off-delay in intervals of the sensor.</summary>
    public double OffDelayIntervals { get; init; } = 2;

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(24), 3);
}
