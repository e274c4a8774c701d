using System.Globalization;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Limits;

/// <summary>Holds a dose against what is recommended and against the limits of a law.</summary>
public static class GuardRails
{
    /// <summary>Judges a dose. [mg/L or g/L of what the additive counts]</summary>
    /// <remarks>
    /// <para><b>Rule.</b> The dose and what is already there are added up. Beyond the absolute limit of the law: refused. A law for which
    /// no figure is known, and no law chosen: the strictest figure known counts, and the sentence says whose it is. Beyond the recommended:
    /// a warning. At a limit is within it.</para>
    /// <para><b>Valid.</b> The limits are those of trade and are for orientation; local law comes first.</para>
    /// <para><b>Source.</b> That of each row of <see cref="AdditiveRules"/>. <b>Check.</b> GuardRailsTests.</para>
    /// </remarks>
    /// <param name="additive">What is added.</param>
    /// <param name="dose">How much.</param>
    /// <param name="law">Whose limits.</param>
    /// <param name="context">What the limit depends on, and what is already there.</param>
    public static DoseAssessment Assess(Additive additive, MassConcentration dose, Law law, DoseContext context)
    {
        var rule = AdditiveRules.Of(additive);
        var total = MassConcentration.FromMilligramsPerLiter(dose.MilligramsPerLiter + context.AlreadyThere.MilligramsPerLiter);
        var absolute = AbsoluteOf(rule, law, context);
        if (absolute is not null && Beyond(total, absolute.Highest))
        {
            return new(additive, DoseVerdict.BeyondAbsolute, total, absolute, absolute, Sentence(rule, total, context, "above the limit of", absolute));
        }

        if (rule.Recommended is { } recommended && Beyond(total, recommended.Highest))
        {
            return new(additive, DoseVerdict.BeyondRecommended, total, recommended, absolute, Sentence(rule, total, context, "more than the recommended", recommended));
        }

        var bound = absolute ?? rule.Recommended;
        var sentence = bound is null
            ? $"{Amount(total)} of {rule.Name}: no limit is known for it."
            : Sentence(rule, total, context, absolute is null ? "within the recommended" : "within the limit of", bound);
        return new(additive, DoseVerdict.Within, total, null, absolute, sentence);
    }

    /// <summary>The absolute limit that counts for an additive under a law; null when none is known.</summary>
    public static AdditiveLimit? AbsoluteLimit(Additive additive, Law law, DoseContext context) => AbsoluteOf(AdditiveRules.Of(additive), law, context);

    private static AdditiveLimit? AbsoluteOf(AdditiveRule rule, Law law, DoseContext context)
    {
        var limits = rule.Absolute(context);
        return limits.FirstOrDefault(limit => limit.Law == law && law is not Law.Strictest) ?? limits.MinBy(limit => limit.Highest.MilligramsPerLiter);
    }

    // A dose computed to the limit itself must not fall on the far side of it by rounding.
    private static bool Beyond(MassConcentration total, MassConcentration limit) => total.MilligramsPerLiter > limit.MilligramsPerLiter * (1 + 1e-9);

    private static string Sentence(AdditiveRule rule, MassConcentration total, DoseContext context, string relation, AdditiveLimit limit)
    {
        var already = context.AlreadyThere.MilligramsPerLiter > 0 ? $" (with the {Amount(context.AlreadyThere)} already there)" : string.Empty;
        return $"{Amount(total)} of {rule.Name}{already} is {relation} {Amount(limit.Highest)}: {WhoseOf(limit)}.";
    }

    private static string WhoseOf(AdditiveLimit limit)
    {
        var whose = limit.Law switch
        {
            Law.Eu => "European Union, ",
            Law.Us => "United States, ",
            Law.Oiv => "International Organization of Vine and Wine, ",
            _ => string.Empty,
        };
        return whose + limit.Source.Standing switch
        {
            SourceStanding.CommonPractice => "common practice, no source" + Behind(limit.Source.Text),
            SourceStanding.FromMemory => limit.Source.Text + " (from memory)",
            _ => limit.Source.Text,
        };
    }

    private static string Behind(string text) => text.Length == 0 ? string.Empty : ", " + text;

    private static string Amount(MassConcentration value) => value.MilligramsPerLiter >= 1000
        ? string.Create(CultureInfo.InvariantCulture, $"{value.GramsPerLiter:0.###} g/L")
        : string.Create(CultureInfo.InvariantCulture, $"{value.MilligramsPerLiter:0.##} mg/L");
}
