using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Asks what is weighed and measured with, and checks it.</summary>
internal static class InstrumentForms
{
    /// <summary>Most scales that are kept: a fine one and one that carries more.</summary>
    public const int Scales = 2;

    private const int MostReadings = 20;

    public static TrialField SyringeCapacity { get; } = new("syringe-capacity", QuantityKind.SmallVolume, 0.5, 200, true, "mL");

    public static TrialField SyringeDivision { get; } = new("syringe-division", QuantityKind.SmallVolume, 0.01, 50, true, "mL");

    public static TrialField SyringeEmpty { get; } = new("syringe-empty", QuantityKind.Ratio, 0, 500, false, "g");

    public static TrialField Cylinder { get; } = new("cylinder-division", QuantityKind.SmallVolume, 0.1, 50, false, "mL");

    public static TrialField Capacity(int scale) => new(Name("scale-capacity", scale), QuantityKind.Ratio, 1, 500000, scale == 1, "g");

    public static TrialField Division(int scale) => new(Name("scale-division", scale), QuantityKind.Ratio, 0.0001, 50, scale == 1, "g");

    public static TrialField Repeatability(int scale) => new(Name("scale-repeatability", scale), QuantityKind.Ratio, 0, 100, false, "g");

    public static string Name(string field, int scale) => string.Create(CultureInfo.InvariantCulture, $"{field}-{scale}");

    /// <summary>What is kept, as the form shows it; usual names and marks where nothing is.</summary>
    public static TrialTyped Of(BenchInstruments? kept, Reader reader)
    {
        var typed = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            [Name("scale-name", 1)] = TrialText.Of("scale-usual-1"),
            [Name("scale-name", 2)] = TrialText.Of("scale-usual-2"),
        };
        if (kept is null)
        {
            return new(typed, TrialTyped.Nothing.Faults, []);
        }

        for (var scale = 1; scale <= kept.Scales.Length; scale++)
        {
            var one = kept.Scales[scale - 1];
            typed[Name("scale-name", scale)] = one.Name;
            Put(Capacity(scale), one.CapacityGrams);
            Put(Division(scale), one.DivisionGrams);
            Put(Repeatability(scale), one.RepeatabilityGrams);
        }

        Put(SyringeCapacity, kept.Syringe.CapacityMilliliters);
        Put(SyringeDivision, kept.Syringe.DivisionMilliliters);
        Put(SyringeEmpty, kept.Syringe.EmptyGrams);
        Put(Cylinder, kept.CylinderDivisionMilliliters);
        return new(typed, TrialTyped.Nothing.Faults, []);

        void Put(TrialField field, double? value) => typed[field.Name] = field.Typed(value, reader);
    }

    public static async Task<IResult> SaveAsync(SentForm form, CancellationToken cancellation)
    {
        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var read = Read(form, faults);
        if (read is null)
        {
            return FormHosting.Again<InstrumentsPage>(form, new() { ["State"] = new TrialTyped(TypedOf(form), faults, []), ["Next"] = form["next"] });
        }

        await read.WriteAsync(form.Service<Store>(), cancellation);
        await form.Service<PreferenceBook>().ChangeAsync(StepsOf(read), cancellation);
        return FormHosting.Back(form, form["next"].Length > 0 ? "trials/new?batch=" + Uri.EscapeDataString(form["next"]) : "trials/instruments?done=yes");
    }

    /// <summary>The worksheets' steps of the scales that were told: asked once, they round by what is on the bench.</summary>
    public static Dictionary<string, string?> StepsOf(BenchInstruments told)
    {
        var steps = new Dictionary<string, string?>(StringComparer.Ordinal);
        foreach (var (scale, name) in told.Scales.OrderBy(scale => scale.DivisionGrams).Zip((string[])["bench-scale", "kitchen-scale"]))
        {
            // The step that is not finer than what the display shows; nothing coarser is known than the last.
            var milligrams = scale.DivisionGrams * 1000;
            var step = Enum.GetValues<ScaleStep>().Order().FirstOrDefault(one => (int)one >= milligrams - 1e-6, ScaleStep.FiftyGrams);
            steps[PreferenceCatalog.Prefix + name] = PreferenceCatalog.NameOf(step);
        }

        return steps;
    }

    /// <summary>What was typed, by field.</summary>
    public static Dictionary<string, string> TypedOf(SentForm form) =>
        form.Fields.Keys.Where(key => key != FormHosting.TokenField).ToDictionary(key => key, key => form[key], StringComparer.Ordinal);

    private static BenchInstruments? Read(SentForm form, Dictionary<string, string> faults)
    {
        var reader = form.Visit.Reader;
        var scales = new List<WeighingScale>();
        for (var scale = 1; scale <= Scales; scale++)
        {
            if (ScaleOf(form, scale, faults) is { } one)
            {
                scales.Add(one);
            }
        }

        var capacity = SyringeCapacity.Read(form[SyringeCapacity.Name], reader, faults);
        var division = SyringeDivision.Read(form[SyringeDivision.Name], reader, faults);
        var empty = SyringeEmpty.Read(form[SyringeEmpty.Name], reader, faults);
        var cylinder = Cylinder.Read(form[Cylinder.Name], reader, faults);
        if (division >= capacity)
        {
            faults[SyringeDivision.Name] = TrialText.Of("fault-syringe", SyringeDivision.Typed(division, reader), SyringeCapacity.Typed(capacity, reader));
        }

        return faults.Count > 0 ? null : new([.. scales], new DosingSyringe(capacity!.Value, division!.Value, empty ?? 15), cylinder ?? 1);
    }

    private static WeighingScale? ScaleOf(SentForm form, int number, Dictionary<string, string> faults)
    {
        var reader = form.Visit.Reader;
        var (capacity, division, repeatability) = (Capacity(number), Division(number), Repeatability(number));
        var fields = (TrialField[])[capacity, division, repeatability];
        var readings = Name("scale-readings", number);
        if (number > 1 && fields.All(field => form[field.Name].Length == 0) && form[readings].Length == 0)
        {
            return null;
        }

        var carried = (capacity with { IsNeeded = true }).Read(form[capacity.Name], reader, faults);
        var step = (division with { IsNeeded = true }).Read(form[division.Name], reader, faults);
        var spread = repeatability.Read(form[repeatability.Name], reader, faults);
        if (carried < 10 * step)
        {
            faults[capacity.Name] = TrialText.Of("fault-capacity", capacity.Typed(carried, reader), capacity.Typed(10 * step, reader));
        }

        if (form[readings].Length > 0)
        {
            spread = Spread(form[readings], reader) ?? spread;
            if (Spread(form[readings], reader) is null)
            {
                faults[readings] = TrialText.Of("fault-readings", MostReadings, reader.Marked("20.01 20.02 20.01"));
            }
        }

        var name = form[Name("scale-name", number)] is { Length: > 0 and <= 40 } given ? given : TrialText.Of(Name("scale-usual", number));
        return carried is { } most && step is { } least ? new WeighingScale(name, most, least, spread) : null;
    }

    // Ten readings with spaces or semicolons between; a decimal comma is the reader's own.
    private static double? Spread(string typed, Reader reader)
    {
        var numbers = new List<double>();
        foreach (var part in typed.Split([' ', ';', '\n', '\r', '\t'], StringSplitOptions.RemoveEmptyEntries))
        {
            if (!TypedNumber.TryRead(part, reader.Units.Mark, out var number, out _) || numbers.Count == MostReadings)
            {
                return null;
            }

            numbers.Add(number);
        }

        return numbers.Count >= 3 ? WeighingScale.RepeatabilityOf(numbers) : null;
    }
}
