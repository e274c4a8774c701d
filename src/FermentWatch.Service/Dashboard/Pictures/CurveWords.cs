using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The words in and about a curve picture.</summary>
internal static class CurveWords
{
    /// <summary>Name and finding of the picture, for those who do not see it.</summary>
    public static (string Title, string Finding) Of(BatchView view, Reader reader, CurveScale scale, CurveWindow window)
    {
        var key = scale.Kind == CurveKind.Sugar ? "sugar" : "gravity";
        var title = PageText.Of("picture-title-" + key, view.Batch.Name, reader.MonthDay(window.From), reader.MonthDay(window.Until));
        var first = view.Gravity[0];
        var newest = view.Gravity[^1];
        var measured = PageText.Of(
            "picture-measured-" + key,
            scale.Kind == CurveKind.Sugar ? Figures.GramsPerLiter(scale.Value(first.Gravity)) : reader.Gravity(first.Gravity),
            scale.Said(view, newest.Gravity),
            Figures.Length(newest.At - first.At));
        var futures = CurveWindow.FuturesOf(view);
        if (futures.Count == 0)
        {
            return (title, measured);
        }

        var ends = PageText.Of(
            "picture-futures",
            reader.MonthDay(futures[0].Finish),
            reader.MonthDay(futures[^1].Finish),
            reader.MonthDay(futures[futures.Count / 2].Finish));
        return (title, measured + " " + ends);
    }

    /// <summary>'166 ± 13 g/L now', or since when it is not known.</summary>
    public static string NewestOf(BatchView view, CurveScale scale)
    {
        var newest = view.Gravity[^1];
        var said = scale.Said(view, newest.Gravity);
        var age = view.Now - newest.At;
        return age < TimeSpan.FromHours(12) ? PageText.Of("value-now", said) : PageText.Of("value-then-unknown", said);
    }

    /// <summary>What the heights of a gravity curve are.</summary>
    public static string GravityCaption(Reader reader) => PageText.Of(reader.Units switch
    {
        { Gravity: GravityUnit.Plato } => "gravity-as-plato",
        { Gravity: GravityUnit.Brix } => "gravity-as-brix",
        { Temperature: TemperatureUnit.Fahrenheit } => "gravity-as-specific-fahrenheit",
        _ => "gravity-as-specific",
    });

    /// <summary>Gravity of a hand reading, or null where the entry has none.</summary>
    public static SpecificGravity? GravityOf(TimelineEvent entry) =>
        entry.What.Values.OfType<ReasonValue.Gravity>().FirstOrDefault(value => !value.IsDifference) is { } gravity
        && gravity.Ratio is >= SpecificGravity.Lowest and <= SpecificGravity.Highest
            ? SpecificGravity.FromRatio(gravity.Ratio)
            : null;

    /// <summary>'Oct 18 to 30', 'Oct 28 to Nov 3'.</summary>
    public static string ShortRange(Reader reader, EventTime from, EventTime until)
    {
        var (first, last) = (reader.Local(from), reader.Local(until));
        if (first.Date == last.Date)
        {
            return PageText.Of("on-day", reader.ShortDay(from));
        }

        return first.Month == last.Month && first.Year == last.Year
            ? PageText.Of("from-to", reader.ShortDay(from), Figures.Count(last.Day))
            : PageText.Of("from-to", reader.ShortDay(from), reader.ShortDay(until));
    }
}
