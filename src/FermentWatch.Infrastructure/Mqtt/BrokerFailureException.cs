using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Why a connection did not come about or ended.</summary>
internal sealed class BrokerFailureException : Exception
{
    private BrokerFailureException(Reason reason, bool isRefusal, Exception? cause)
        : base($"{reason.Code}: {string.Join(", ", reason.Values.Select(value => value is ReasonValue.Name name ? name.Text : value.ToString()))}", cause)
    {
        Reason = reason;
        IsRefusal = isRefusal;
    }

    /// <summary>The cause, for the page.</summary>
    public Reason Reason { get; }

    /// <summary>True when only another setting, here or at the broker, will mend it.</summary>
    public bool IsRefusal { get; }

    /// <summary>True when the broker may only be too old for the version that was tried.</summary>
    public bool MayBeVersion { get; set; }

    /// <summary>True when the broker had accepted us before.</summary>
    public bool AfterGreeting { get; set; }

    /// <summary>The network or the broker failed: trying again is sensible.</summary>
    public static BrokerFailureException Broken(string code, Exception? cause, params ReadOnlySpan<string> names) => new(ReasonOf(code, names), false, cause);

    /// <summary>The broker said no.</summary>
    public static BrokerFailureException Refused(string code, Exception? cause, params ReadOnlySpan<string> names) => new(ReasonOf(code, names), true, cause);

    /// <summary>Nothing came back for a time.</summary>
    public static BrokerFailureException Silent(TimeSpan length) => new(Reason.Of(BrokerProblems.Silent, new ReasonValue.Length(length)), false, null);

    private static Reason ReasonOf(string code, ReadOnlySpan<string> names)
    {
        var values = new ReasonValue[names.Length];
        for (var i = 0; i < names.Length; i++)
        {
            values[i] = new ReasonValue.Name(names[i]);
        }

        return Reason.Of(code, values);
    }
}
