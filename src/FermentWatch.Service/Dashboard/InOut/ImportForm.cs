using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.InOut;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>Reads the choices of the form about a file, from a form that was sent or from the address of a download.</summary>
internal static class ImportForm
{
    /// <summary>What may stand between two cells, and its word.</summary>
    public static IReadOnlyList<(char Value, string Word)> Separators { get; } = [(',', "comma"), (';', "semicolon"), ('\t', "tab")];

    /// <summary>The names of the fields beside those of the columns.</summary>
    public static IReadOnlyList<string> Fields { get; } = ["separator", "header", "decimal", "dates", "zone", "sensor", "batch", "placement"];

    /// <summary>The choices as typed; a field that is wrong keeps the guess and is named among the faults.</summary>
    /// <param name="file">The file.</param>
    /// <param name="field">A field as typed; empty when it was not sent.</param>
    /// <param name="guess">What was guessed.</param>
    /// <param name="faults">What is wrong, by field.</param>
    public static ImportChoices Read(ImportFile file, Func<string, string> field, ImportChoices guess, Dictionary<string, string> faults)
    {
        var choices = guess with
        {
            Batch = field("batch") is { Length: > 0 } batch ? new BatchId(batch) : null,
            Placement = Enum.TryParse<Placement>(field("placement"), out var placement) && Enum.IsDefined(placement) ? placement : Placement.InLiquid,
        };
        if (guess.IsOwnLayout)
        {
            return choices;
        }

        var separator = Separators.FirstOrDefault(one => one.Word == field("separator"), (Value: guess.Separator, Word: "")).Value;
        if (separator != guess.Separator)
        {
            // Other columns: those that were chosen mean nothing any more.
            using var text = file.Open();
            return ImportGuess.Of(ImportGuess.Head(text, separator), separator, guess.Zone, field("sensor")) with { Batch = choices.Batch, Placement = choices.Placement };
        }

        choices = choices with
        {
            HasHeader = field("header").Length > 0,
            DecimalComma = field("decimal").Length > 0,
            Dates = Enum.TryParse<DateStyle>(field("dates"), out var dates) && Enum.IsDefined(dates) ? dates : guess.Dates,
            Columns = [.. guess.Columns.Select((role, i) => ColumnRole.Find(field("c" + i)) ?? role)],
            Sensor = field("sensor"),
        };
        var zone = SettingReaders.Zone(field("zone"));
        if (zone.Ok)
        {
            choices = choices with { Zone = zone.Value! };
        }
        else
        {
            faults["zone"] = InOutText.Of("import-zone-fault", ImportWords.Short(field("zone")), zone.Because ?? "");
        }

        if (choices.Sensor.Length is < 1 or > 80)
        {
            faults["sensor"] = InOutText.Of("import-sensor-fault", choices.Sensor.Length);
        }

        Check(choices, faults);
        return choices;
    }

    /// <summary>All that decides how rows are read: two choices with the same read the same.</summary>
    public static string Fingerprint(ImportChoices choices) =>
        string.Join('|', (object[])[(int)choices.Separator, choices.HasHeader, choices.DecimalComma, (int)choices.Dates, choices.Zone.Id, .. choices.Columns.Select(role => role.Key)]);

    /// <summary>What is wrong with the columns.</summary>
    public static void Check(ImportChoices choices, Dictionary<string, string> faults)
    {
        if (choices.IsOwnLayout)
        {
            return;
        }

        if (!choices.Columns.Contains(ColumnRole.Time) && !(choices.Columns.Contains(ColumnRole.Date) && choices.Columns.Contains(ColumnRole.Clock)))
        {
            faults["time"] = InOutText.Of("import-columns-time");
        }

        var quantities = choices.Columns.Select(role => role.Unit).OfType<MeasurementUnit>().Select(UnitConversion.QuantityOf).ToList();
        if (quantities.Count == 0)
        {
            faults["number"] = InOutText.Of("import-columns-number");
        }
        else if (quantities.GroupBy(quantity => quantity).FirstOrDefault(group => group.Count() > 1) is { } twice)
        {
            faults["number"] = InOutText.Of("import-columns-twice", SettingWords.Of(twice.Key));
        }
    }
}
