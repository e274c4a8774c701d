using System.Text.Json.Serialization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Why something was decided: a code that the service's resource files turn into words, and the values that go into them.</summary>
/// <param name="Code">Resource key in lower-case words joined by hyphens, such as <c>set-aside-spike</c>.</param>
/// <param name="Values">Values by position ({0}, {1}, ...) in the text.</param>
public sealed record Reason(string Code, ValueList<ReasonValue> Values)
{
    /// <summary>A reason with its values.</summary>
    public static Reason Of(string code, params ReasonValue[] values) => new(code, ValueList.Of<ReasonValue>(values));
}

/// <summary>A value in a reason, with enough type that the page can show it in the reader's units, zone and language.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "is")]
[JsonDerivedType(typeof(Gravity), "gravity")]
[JsonDerivedType(typeof(Degrees), "degrees")]
[JsonDerivedType(typeof(Moment), "moment")]
[JsonDerivedType(typeof(Length), "length")]
[JsonDerivedType(typeof(Count), "count")]
[JsonDerivedType(typeof(Odds), "odds")]
[JsonDerivedType(typeof(Measured), "measured")]
[JsonDerivedType(typeof(Name), "name")]
[JsonDerivedType(typeof(Figure), "figure")]
[JsonDerivedType(typeof(Words), "words")]
[JsonDerivedType(typeof(Filled), "filled")]
[JsonDerivedType(typeof(Amount), "amount")]
public abstract record ReasonValue
{
    private ReasonValue()
    {
    }

    /// <summary>A specific gravity, or a difference of two when <paramref name="IsDifference"/>.</summary>
    public sealed record Gravity(double Ratio, bool IsDifference = false) : ReasonValue;

    /// <summary>A temperature in °C, or a difference of two when <paramref name="IsDifference"/>.</summary>
    public sealed record Degrees(double Celsius, bool IsDifference = false) : ReasonValue;

    /// <summary>An instant on the samples' time line.</summary>
    public sealed record Moment(EventTime At) : ReasonValue;

    /// <summary>A length of time.</summary>
    public sealed record Length(TimeSpan Span) : ReasonValue;

    /// <summary>A whole number of things.</summary>
    public sealed record Count(long Number) : ReasonValue;

    /// <summary>A probability from 0 to 1, shown as odds.</summary>
    public sealed record Odds(double Probability) : ReasonValue;

    /// <summary>A number in the unit in which a device sent it or would have sent it: shown as it is, with that unit.</summary>
    public sealed record Measured(double Number, MeasurementUnit Unit) : ReasonValue;

    /// <summary>A plain number with so many digits after the point; the text around it says the unit.</summary>
    public sealed record Figure(double Value, int Digits) : ReasonValue;

    /// <summary>An amount in a unit of the journal's fields (L, mL, g, kg, bar), shown in the reader's.</summary>
    public sealed record Amount(double Number, string Unit, int Digits) : ReasonValue;

    /// <summary>A name that somebody gave: shown as it is.</summary>
    public sealed record Name(string Text) : ReasonValue;

    /// <summary>A text of the journal whose beginning the house wrote itself: that part is shown in the reader's language, the rest as it is.</summary>
    public sealed record Filled(string Text, FermentWatch.Monitoring.Batches.FilledText Of) : ReasonValue;

    /// <summary>Another reason, written out inside of this one.</summary>
    public sealed record Words(Reason Of) : ReasonValue;
}
