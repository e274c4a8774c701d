using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Sentences about trials: their notices, steps, amounts and names.</summary>
internal static class TrialWords
{
    /// <summary>Name of an additive.</summary>
    public static string Additive(string code) => TrialText.Of("additive-" + code);

    /// <summary>The same at the beginning of a sentence.</summary>
    public static string Named(string code) => Additive(code) is { } name ? char.ToUpperInvariant(name[0]) + name[1..] : "";

    /// <summary>What a trial asks: 'How sweet?'</summary>
    public static string Question(BenchTrial trial) => TrialText.Of("question-" + QuestionCode(trial));

    /// <summary>The last part of the question's key: 'two', 'Sweetener'.</summary>
    public static string QuestionCode(BenchTrial trial) => trial.Request.Factors.Length > 1 ? "two" : trial.Request.Factors[0].Additive.Role.ToString();

    /// <summary>The notice as a sentence.</summary>
    public static string Sentence(BenchNotice notice, Reader reader)
    {
        if (notice.Words is { } words)
        {
            return PhraseWords.Of(words, reader);
        }

        var values = Values(notice.Values, reader);
        return TrialText.Of("notice-" + notice.Code + (IsOne(notice.Values.Length, values) && TrialText.Has($"notice-{notice.Code}-one") ? "-one" : ""), values);
    }

    /// <summary>A step of the work as a sentence.</summary>
    public static string Sentence(WorkStep step, Reader reader)
    {
        var values = Values(step.Values, reader);
        var way = step.Values.IsEmpty && TrialText.Has("work-" + step.Code + "-plain") ? "-plain"
            : IsOne(step.Values.Length, values) && TrialText.Has("work-" + step.Code + "-one") ? "-one" : "";
        return TrialText.Of("work-" + step.Code + way, values);
    }

    // A range whose ends read alike is one number.
    private static bool IsOne(int count, object[] values) => count == 2 && Equals(values[0], values[1]);

    /// <summary>The same within a plan: portions stand as the scale shows them.</summary>
    public static string Sentence(WorkStep step, ScaleUpPlan plan, Reader reader)
    {
        var addition = step.Values.IsEmpty ? null : plan.Additions.FirstOrDefault(one => one.Additive.Code == step.Values[0].Name);
        var grams = step.Code switch { WorkStepCodes.FirstPortion => addition?.FirstGrams, WorkStepCodes.Rest => addition?.RestGrams, _ => null };
        return grams is { } portion
            ? TrialText.Of("work-" + step.Code, Grams(portion, addition!.Product.Step, reader), Additive(addition.Additive.Code))
            : Sentence(step, reader);
    }

    /// <summary>A fault of the library with the field's own name in it.</summary>
    public static string Fault(InputFault fault, Reader reader) =>
        PhraseWords.Of(fault.Words, reader, field => TrialText.Has("field-" + field) ? TrialText.Of("field-" + field) : field);

    /// <summary>A dose: '16 g/L', '50 mg/L' where it is less than a tenth of a gram, 'none'.</summary>
    public static string Dose(double gramsPerLiter, Reader reader) => gramsPerLiter switch
    {
        <= 0 => TrialText.Of("none"),
        < 0.1 => Joined(reader.Number(gramsPerLiter * 1000, "0.#"), "mg/L"),
        < 10 => Joined(reader.Number(gramsPerLiter, "0.##"), "g/L"),
        _ => Joined(reader.Number(gramsPerLiter, "0.#"), "g/L"),
    };

    /// <summary>The same where words stand around it: 'between 0 g/L and 2 g/L' reads in every language, 'between none and' does not.</summary>
    public static string DoseInSentence(double gramsPerLiter, Reader reader) => gramsPerLiter <= 0 ? Joined("0", "g/L") : Dose(gramsPerLiter, reader);

    /// <summary>Doses of a glass: one, or both with their names.</summary>
    public static string Doses(BenchTrial trial, IReadOnlyList<double> gramsPerLiter, Reader reader) => trial.Request.Factors.Length == 1
        ? Dose(gramsPerLiter[0], reader)
        : string.Join(", ", trial.Request.Factors.Select((factor, index) => Additive(factor.Additive.Code) + " " + Dose(gramsPerLiter[index], reader)));

    /// <summary>An amount as its instrument shows it; 'none' below one step.</summary>
    public static string Amount(RoundedAmount amount, string unit, Reader reader) => amount.Shown is { } shown
        ? Joined(reader.Marked(shown.ToString("F" + Digits(amount.Step), CultureInfo.InvariantCulture)), unit)
        : TrialText.Of("none");

    /// <summary>Grams as a scale of this division shows them.</summary>
    public static string Grams(decimal grams, decimal step, Reader reader) =>
        Joined(reader.Marked(grams.ToString("F" + Digits(step), CultureInfo.InvariantCulture)), "g");

    /// <summary>A chance in words: '1 time in 4', 'less than 1 time in 1000'.</summary>
    public static string Chance(double probability) => probability switch
    {
        >= 0.95 => TrialText.Of("chance-always"),
        >= 0.4 => TrialText.Of("chance-in-ten", Math.Round(probability * 10).ToString(CultureInfo.InvariantCulture)),
        < 0.001 => TrialText.Of("chance-hardly"),
        _ => TrialText.Of("chance", Math.Round(1 / probability).ToString(CultureInfo.InvariantCulture)),
    };

    /// <summary>What a glass is: 'control', 'twin' or nothing.</summary>
    public static string Role(TrialGlass glass) => glass.Role switch
    {
        GlassRole.Control => TrialText.Of("role-control"),
        GlassRole.Twin => TrialText.Of("role-twin"),
        _ => "",
    };

    /// <summary>Where a trial stands.</summary>
    public static string State(TrialState state) => TrialText.Of("state-" + state);

    /// <summary>Names of the tasters in a line.</summary>
    public static string Tasters(BenchTrial trial) => string.Join(", ", trial.Request.Tasters);

    /// <summary>What a value of a notice says.</summary>
    public static string Value(NoticeValue value, Reader reader) => value.Unit switch
    {
        "g/L" => Dose(value.Number, reader),
        "L" => reader.Volume(value.Number),
        "(20/20 °C)" => value.Number < 0.5 ? reader.GravityDifference(value.Number) : reader.Gravity(value.Number),
        "°C" => Joined(reader.BareDegrees(value.Number), reader.DegreeSign),
        "g" => Joined(reader.Number(value.Number, value.Number < 10 ? "0.###" : "0.#"), "g"),
        "d" => Joined(reader.Number(value.Number, "0"), TrialText.Of("days")),
        "" => reader.Number(value.Number, "0.#"),
        "%" => Joined(reader.Number(value.Number, "0.#"), "%"),
        _ => Joined(reader.Number(value.Number, value.Number < 10 ? "0.##" : "0"), value.Unit),
    };

    // The name of the additive stands behind the values.
    private static object[] Values(IReadOnlyList<NoticeValue> values, Reader reader) =>
    [
        .. values.Select(value => Value(value, reader)),
        values.Count > 0 && TrialText.Has("additive-" + values[0].Name) ? Additive(values[0].Name) : "",
    ];

    private static string Digits(decimal step) => step.Scale.ToString(CultureInfo.InvariantCulture);

    private static string Joined(string number, string unit) => number + Figures.NoBreak + unit;
}
