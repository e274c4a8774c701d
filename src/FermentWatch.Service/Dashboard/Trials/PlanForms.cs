using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Forms;
using FermentWatch.Service.Dashboard.Preferences;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>Plans a trial from what was typed.</summary>
internal static class PlanForms
{
    private static readonly Dictionary<string, TrialPlanKind> Kinds = new(StringComparer.Ordinal)
    {
        ["ladder"] = TrialPlanKind.Ladder,
        ["bracket"] = TrialPlanKind.BracketThenHalve,
        ["grid"] = TrialPlanKind.Grid,
        ["free"] = TrialPlanKind.FreeGlass,
        ["held"] = TrialPlanKind.Held,
    };

    private static readonly double[] LargerGlasses = [100, 150, 250];

    // A glass that grows is sipped from again and again.
    private const double SippedGlass = 120;

    /// <summary>Kinds of plans as they are offered.</summary>
    public static IReadOnlyList<(string, string)> KindChoices => [.. Kinds.Keys.Select(kind => (kind, TrialText.Of("kind-" + kind)))];

    /// <summary>The word under which a kind is offered.</summary>
    public static string WordOf(TrialPlanKind kind) => Kinds.First(one => one.Value == kind).Key;

    public static IResult Show(HttpContext context)
    {
        var visit = DashboardHosting.VisitOf(context);
        var store = context.RequestServices.GetRequiredService<Store>();
        if (visit.Snapshot.Find(context.Request.Query["batch"].ToString()) is not { } entry)
        {
            return TrialHosting.Page<PlanStartPage>(context, []);
        }

        if (BenchInstruments.Read(store) is null)
        {
            return TrialHosting.Page<InstrumentsPage>(context, new() { ["State"] = InstrumentForms.Of(null, visit.Reader), ["Next"] = entry.View.Batch.Id.Value });
        }

        var known = PlanFields.Known(entry, store.ReadBatch(entry.View.Batch.Id)?.Facts, visit.Reader);
        var typed = PlanFields.Usual(entry, known, PlanFields.WhoLast(store, context.SignedIn()?.Person.Name), visit.Reader);
        return TrialHosting.Page<PlanPage>(context, new() { ["Entry"] = entry, ["Known"] = PlanFields.Sources(known, visit.Reader), ["State"] = new TrialTyped(typed, TrialTyped.Nothing.Faults, []) });
    }

    public static async Task<IResult> PlanAsync(SentForm form, CancellationToken cancellation)
    {
        var store = form.Service<Store>();
        if (form.Visit.Snapshot.Find(form["batch"]) is not { } entry || BenchInstruments.Read(store) is not { } instruments)
        {
            return FormHosting.Back(form, "trials/new");
        }

        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var known = PlanFields.Known(entry, store.ReadBatch(entry.View.Batch.Id)?.Facts, form.Visit.Reader);
        var request = Read(form, entry, instruments, faults);
        var planned = request is null ? null : Planned(request, isGlassGiven: form[PlanFields.Glass.Name].Length > 0);
        if (planned?.Trial is not { } trial)
        {
            var problems = planned is null ? [] : planned.Faults.Select(fault => TrialWords.Fault(fault, form.Visit.Reader))
                .Concat(planned.Notices.Where(notice => notice.Weight is NoticeWeight.Refusal).Select(notice => TrialWords.Sentence(notice, form.Visit.Reader))).ToList();
            return FormHosting.Again<PlanPage>(form, new() { ["Entry"] = entry, ["Known"] = PlanFields.Sources(known, form.Visit.Reader), ["State"] = new TrialTyped(InstrumentForms.TypedOf(form), faults, problems) });
        }

        var id = await store.AddTrialAsync(entry.View.Batch.Id, trial, cancellation);
        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{id}"));
    }

    private static TrialRequest? Read(SentForm form, BoardEntry entry, BenchInstruments instruments, Dictionary<string, string> faults)
    {
        var reader = form.Visit.Reader;
        double? Number(TrialField field) => field.Read(form[field.Name], reader, faults);
        var kind = Kinds.GetValueOrDefault(form["kind"]);
        var tasters = Names(form["who"], faults);
        var pour = Number(PlanFields.Pour) ?? PlanFields.UsualPour;
        var step = Number(PlanFields.Step);
        var secondStep = Number(PlanFields.SecondStep);
        var glass = Number(PlanFields.Glass);
        var volume = Number(PlanFields.Volume);
        var wine = new BenchWine(
            volume ?? 1,
            Number(PlanFields.VolumeError) ?? Math.Round(0.01 * (volume ?? 1), 2),
            Number(PlanFields.Gravity),
            Number(PlanFields.Alcohol),
            Number(PlanFields.Ph),
            Number(PlanFields.Acidity),
            Number(PlanFields.Sugar),
            PlanFields.TanninSoFar(entry.View.Batch, form.Service<Store>().ReadBatch(entry.View.Batch.Id)?.Facts, entry.View.Now));
        var what = TrialAdditive.All.FirstOrDefault(additive => additive.Code == form["what"]);
        var second = TrialAdditive.All.FirstOrDefault(additive => additive.Code == form["second"]);
        if (what is null || !Kinds.ContainsKey(form["kind"]))
        {
            faults["what"] = TrialText.Of("fault-what");
        }
        else if (kind is TrialPlanKind.Grid && (second is null || second.Code == what.Code))
        {
            faults["second"] = TrialText.Of("fault-second");
        }

        if (faults.Count > 0)
        {
            return null;
        }

        var liquid = form["liquid"] == "water" ? StockLiquid.Water : StockLiquid.Wine;
        ImmutableArray<TrialFactor> factors = kind is TrialPlanKind.Grid
            ? [Factor(what!, step, 2, 1, liquid), Factor(second!, secondStep, 2, 1, liquid)]
            : [Factor(what!, step, Doses(kind, form["glasses"]), kind is TrialPlanKind.BracketThenHalve ? 2 : 1, liquid)];
        return new TrialRequest(
            wine,
            instruments.Equipment,
            kind,
            factors,
            tasters,
            glass ?? (kind is TrialPlanKind.FreeGlass ? SippedGlass : SmallestGlass(pour, tasters.Length)),
            pour,
            RandomNumberGenerator.GetInt32(int.MaxValue),
            StartsOn: DateOnly.FromDateTime(reader.Local(form.Visit.Now).DateTime),
            Law: form.Service<PreferenceBook>().Present.Law,
            Acids: Enum.TryParse<AcidProfile>(form["acids"], out var acids) && Enum.IsDefined(acids) ? acids : null);
    }

    // A little more than what is poured: what clings to the cylinder is missing in the last glass.
    private static double SmallestGlass(double pour, int tasters) => Math.Max(50, 5 * Math.Ceiling(((pour * tasters) + 3) / 5));

    // Larger glasses are easier to dose and take more wine: the smallest that this bench can dose is taken, unless one was asked for.
    private static PlannedTrial Planned(TrialRequest request, bool isGlassGiven)
    {
        var first = TrialPlanning.Plan(request);
        return first.Trial is not null || isGlassGiven
            ? first
            : LargerGlasses.Where(milliliters => milliliters > request.GlassMilliliters)
                .Select(milliliters => TrialPlanning.Plan(request with { GlassMilliliters = milliliters }))
                .FirstOrDefault(planned => planned.Trial is not null) ?? first;
    }

    // A control and a twin stand beside the doses; the first flight of a bracket is two doses far apart.
    private static int Doses(TrialPlanKind kind, string glasses) => kind is TrialPlanKind.BracketThenHalve ? 2
        : Math.Clamp(int.TryParse(glasses, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : PlanFields.Glasses.Usual, PlanFields.Glasses.Low, PlanFields.Glasses.High) - 2;

    private static TrialFactor Factor(TrialAdditive additive, double? typed, int doses, int times, StockLiquid liquid)
    {
        var step = typed ?? additive.CoarseStepGramsPerLiter;
        ImmutableArray<double> ladder = [.. Enumerable.Range(1, doses).Select(number => Math.Round(number * times * step, 4))];
        return new(additive, ladder, Math.Min(additive.FinestStepGramsPerLiter, step), 2 * ladder[^1], liquid);
    }

    private static ImmutableArray<string> Names(string typed, Dictionary<string, string> faults)
    {
        ImmutableArray<string> names = [.. typed.Split([',', ';', '\n'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
        if (names.Length is < 1 or > 12 || names.Distinct(StringComparer.OrdinalIgnoreCase).Count() != names.Length || names.Any(name => name.Length > 30 || name.Any(char.IsControl)))
        {
            faults["who"] = TrialText.Of("fault-who", names.Length);
        }

        return names;
    }
}
