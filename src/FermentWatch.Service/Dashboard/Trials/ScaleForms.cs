using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>From the glass to the batch: the volume today, the steps, what is written into the book.</summary>
internal static class ScaleForms
{
    /// <summary>The plan for the batch; null as long as the volume of the day was not told.</summary>
    public static ScaledUp? Plan(StoredTrial stored, PreferenceSet set) => stored.Work.Dosing is not { } dosing || stored.Trial.ChosenDoses.IsEmpty
        ? null
        : ScaleUp.Plan(
            new ScaleUpRequest(
                stored.Trial.Request.Wine with { VolumeLiters = dosing.VolumeLiters, VolumeErrorLiters = dosing.VolumeErrorLiters },
                stored.Trial.ChosenDoses,
                stored.Trial.Request.Equipment.Scales,
                stored.Trial.Request.Equipment.Tolerance,
                dosing.IsStabilized,
                set.Law),
            stored.Trial.Request.Acids is { } acids ? TrialPh.For(acids) : null);

    /// <summary>What the page stands on.</summary>
    public static Dictionary<string, object?> Parameters(HttpContext context, StoredTrial found)
    {
        var visit = DashboardHosting.VisitOf(context);
        var store = context.RequestServices.GetRequiredService<Store>();
        var typed = new Dictionary<string, string>(StringComparer.Ordinal);
        string? from = null;
        if (found.Work.Dosing is null && visit.Snapshot.Find(found.Batch.Value) is { } entry)
        {
            var facts = store.ReadBatch(found.Batch)?.Facts;
            if (BatchValues.Of(entry, facts, visit.Reader).TryGetValue("volume", out var volume))
            {
                typed[PlanFields.Volume.Name] = PlanFields.Volume.Typed(volume.Kept, visit.Reader);
                from = volume.From;
            }

            typed["stabilized"] = entry.View.Journal.Any(one => one.Kind == JournalKind.Stabilized) ? "yes" : "";
        }

        return new()
        {
            ["Plan"] = Plan(found, context.RequestServices.GetRequiredService<PreferenceBook>().Present),
            ["State"] = new TrialTyped(typed, TrialTyped.Nothing.Faults, []),
            ["From"] = from,
        };
    }

    public static async Task<IResult> ActAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { Trial.Chosen: not null } found)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var store = form.Service<Store>();
        var act = form["do"];
        if (act == "volume")
        {
            if (await VolumeAsync(form, found, cancellation) is { } faults)
            {
                return FormHosting.Again<ScalePage>(form, new() { ["Stored"] = found, ["Plan"] = null, ["State"] = new TrialTyped(InstrumentForms.TypedOf(form), faults, []) });
            }
        }
        else if (act == "again")
        {
            await store.ChangeTrialAsync(found.Id, was => !was.Work.IsDosed ? was with { Work = was.Work with { Dosing = null, Steps = [] } } : was, cancellation);
        }
        else if (act == "done")
        {
            await store.ChangeTrialAsync(found.Id, was => was with { State = TrialState.Done }, cancellation);
        }
        else if (form["write"].Length > 0)
        {
            await WriteAsync(form, found, cancellation);
        }
        else if (int.TryParse(form["code"], NumberStyles.None, CultureInfo.InvariantCulture, out var step) && step < 100)
        {
            await store.ChangeTrialAsync(found.Id, was => was with { Work = was.Work with { Steps = was.Work.Steps.Contains(step) ? was.Work.Steps.Remove(step) : was.Work.Steps.Add(step) } }, cancellation);
        }

        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/scale"));
    }

    private static async Task<Dictionary<string, string>?> VolumeAsync(SentForm form, StoredTrial found, CancellationToken cancellation)
    {
        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var volume = PlanFields.Volume.Read(form[PlanFields.Volume.Name], form.Visit.Reader, faults);
        var error = PlanFields.VolumeError.Read(form[PlanFields.VolumeError.Name], form.Visit.Reader, faults);
        if (volume is not { } liters || faults.Count > 0)
        {
            return faults;
        }

        bool? isStabilized = form["stabilized"] switch { "yes" => true, "no" => false, _ => null };
        await form.Service<Store>().ChangeTrialAsync(
            found.Id,
            was => !was.Work.IsDosed ? was with { Work = was.Work with { Dosing = new TrialDosing(liters, Math.Min(liters, error ?? Math.Round(0.01 * liters, 3)), isStabilized), Steps = [] } } : was,
            cancellation);
        return null;
    }

    private static async Task WriteAsync(SentForm form, StoredTrial found, CancellationToken cancellation)
    {
        if (Plan(found, form.Service<PreferenceBook>().Present)?.Plan is not { } plan)
        {
            return;
        }

        foreach (var (addition, part, grams) in plan.Additions.SelectMany(addition => ScaleEntries.Parts(addition).Select(part => (addition, part.Part, part.Grams))))
        {
            var key = ScaleEntries.Key(addition, part);
            if (key != form["write"])
            {
                continue;
            }

            var draft = ScaleEntries.Draft(addition.Additive, grams, found.Work.Dosing!.IsStabilized, EventTime.From(form.Visit.Now), form.Context.SignedIn()?.Person.Name, form.Visit.Reader);
            // Sent twice it is written once.
            await form.Service<Store>().AppendJournalAsync(found.Batch, draft, string.Create(CultureInfo.InvariantCulture, $"trial-{found.Id}-{key}"), cancellation);
            await form.Service<Store>().ChangeTrialAsync(found.Id, was => was.Work.Written.Contains(key) ? was : was with { Work = was.Work with { Written = was.Work.Written.Add(key) } }, cancellation);
            form.Service<PipelineSignals>().Touch([found.Batch]);
        }
    }
}
