using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Nutrients;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>One part of a planned addition of nutrient.</summary>
/// <param name="Part">Which one, from 1.</param>
/// <param name="Parts">Of how many.</param>
/// <param name="Grams">How much. [g]</param>
/// <param name="Gravity">Gravity at which it is due; null where only the clock tells.</param>
/// <param name="DueAt">When it is due by the clock.</param>
public sealed record PlannedPart(int Part, int Parts, double Grams, SpecificGravity? Gravity, EventTime DueAt);

/// <summary>Nutrients as the newest plan in the journal spreads them: marks by sugar, or by the clock where no gravity is known.</summary>
/// <remarks>The marks are those of <see cref="NutrientPlan"/>: evenly from the start to a third of the sugar, nothing inorganic late.</remarks>
/// <param name="MadeAt">When the plan was written down.</param>
/// <param name="Parts">Parts with an amount, in order.</param>
/// <param name="Given">How many parts were added since, as the journal tells.</param>
/// <param name="Between">Time from part to part by the clock.</param>
/// <param name="StepPoints">Gravity from part to part; null where only the clock tells. [points]</param>
public sealed record PlannedNutrients(EventTime MadeAt, ValueList<PlannedPart> Parts, int Given, TimeSpan Between, double? StepPoints)
{
    private const double UsualHours = 24;
    private static readonly TimeSpan Early = TimeSpan.FromHours(6);

    /// <summary>The newest plan of a batch, or null.</summary>
    public static PlannedNutrients? Of(BatchView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var entry = view.Journal.LastOrDefault(one => one.Kind is JournalKind.NutrientPlan && one.At <= view.Now);
        if (entry?.Number("grams") is not { } grams || entry.Number("parts") is not { } parts)
        {
            return null;
        }

        var between = TimeSpan.FromHours(Math.Clamp(entry.Number("hours-between") ?? UsualHours, 6, 96));
        var given = view.Journal.Count(one => one.Kind is JournalKind.NutrientAdded && one.At >= entry.At - Early && one.At <= view.Now);
        var start = entry.At > view.Batch.InoculatedAt ? entry.At : view.Batch.InoculatedAt;
        var marks = Marks(view, entry, (int)Math.Round(parts), between, grams);
        var planned = marks
            .Select((mark, i) => new PlannedPart(i + 1, marks.Count, mark.InorganicGrams + mark.OrganicGrams, i == 0 ? null : mark.Gravity, start + TimeSpan.FromHours(mark.Hours)))
            .Where(part => part.Grams > 0);
        double? step = marks.Count > 1 && marks[0].Gravity.Points > marks[^1].Gravity.Points ? (marks[0].Gravity.Points - marks[^1].Gravity.Points) / (marks.Count - 1) : null;
        return step is null
            ? new(entry.At, ValueList.Of(planned.Select(part => part with { Gravity = null })), given, between, null)
            : new(entry.At, ValueList.Of(planned), given, between, step);
    }

    private static IReadOnlyList<NutrientMark> Marks(BatchView view, JournalEntry entry, int parts, TimeSpan between, double grams)
    {
        parts = Math.Clamp(parts, 1, 4);
        var original = view.OriginalGravity?.Value;
        if (original is not { Points: >= 30 and <= 175 } known)
        {
            // Without an original gravity only the clock tells.
            return [.. Enumerable.Range(0, parts).Select(i => new NutrientMark("", 0, SpecificGravity.FromPoints(0), i * between.TotalHours, 0, grams / parts))];
        }

        var present = known;
        foreach (var point in view.Gravity)
        {
            present = point.At <= entry.At && point.Gravity < known ? point.Gravity : present;
        }

        var isOrganic = entry.Word("nutrient") == "organic";
        return NutrientPlan.For(known, present, parts, between.TotalHours, isOrganic ? 0 : grams, isOrganic ? grams : 0).Marks;
    }
}
