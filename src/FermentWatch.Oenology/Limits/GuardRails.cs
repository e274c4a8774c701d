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
            return new(additive, DoseVerdict.BeyondAbsolute, total, absolute, absolute, $"{Subject(rule, total, context)} is above the limit of {AmountOf(absolute.Highest):0.###}: {WhoseOf(absolute)}.");
        }

        if (rule.Recommended is { } recommended && Beyond(total, recommended.Highest))
        {
            return new(additive, DoseVerdict.BeyondRecommended, total, recommended, absolute, $"{Subject(rule, total, context)} is more than the recommended {AmountOf(recommended.Highest):0.###}: {WhoseOf(recommended)}.");
        }

        return new(additive, DoseVerdict.Within, total, null, absolute, WithinWords(Subject(rule, total, context), absolute, rule.Recommended));
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

    private static Phrase WithinWords(Phrase subject, AdditiveLimit? absolute, AdditiveLimit? recommended)
    {
        if (absolute is not null)
        {
            return $"{subject} is within the limit of {AmountOf(absolute.Highest):0.###}: {WhoseOf(absolute)}.";
        }

        return recommended is null
            ? (Phrase)$"{subject}: no limit is known for it."
            : $"{subject} is within the recommended {AmountOf(recommended.Highest):0.###}: {WhoseOf(recommended)}.";
    }

    private static Phrase Subject(AdditiveRule rule, MassConcentration total, DoseContext context) => context.AlreadyThere.MilligramsPerLiter > 0
        ? (Phrase)$"{AmountOf(total):0.###} of {(Phrase)rule.Name} (with the {AmountOf(context.AlreadyThere):0.###} already there)"
        : $"{AmountOf(total):0.###} of {(Phrase)rule.Name}";

    private static Phrase WhoseOf(AdditiveLimit limit)
    {
        Phrase text = limit.Source.Text;
        var source = limit.Source.Standing switch
        {
            SourceStanding.CommonPractice when limit.Source.Text.Length == 0 => "common practice, no source",
            SourceStanding.CommonPractice => (Phrase)$"common practice, no source, {text}",
            SourceStanding.FromMemory => $"{text} (from memory)",
            _ => text,
        };
        return limit.Law switch
        {
            Law.Eu => (Phrase)$"European Union, {source}",
            Law.Us => $"United States, {source}",
            Law.Oiv => $"International Organization of Vine and Wine, {source}",
            _ => source,
        };
    }

    // Two digits after the point are enough in milligrams.
    private static Amount AmountOf(MassConcentration value) => value.MilligramsPerLiter >= 1000
        ? new(value.GramsPerLiter, "g/L")
        : new(Math.Round(value.MilligramsPerLiter, 2), "mg/L");
}
