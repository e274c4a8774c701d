using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.Tests.BenchTrials;

/// <summary>
/// Whole trials as they are, from the request to the batch. Snapshots made by our own code, not checks against nature: they only say that
/// something changed. FERMENTWATCH_WRITE_SNAPSHOTS names the folder into which they are written anew.
/// </summary>
public sealed class TrialSnapshotTests
{
    private static readonly JsonSerializerOptions Plain = new() { Converters = { new JsonStringEnumConverter() }, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly TrialAdditive[] Additives =
        [TrialAdditive.Sucrose, TrialAdditive.Honey, TrialAdditive.Tartaric, TrialAdditive.Malic, TrialAdditive.Citric, TrialAdditive.Lactic, TrialAdditive.Tannin];

    public static TheoryData<string> Cases => [.. Requests().Select(one => one.Name)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Trial_IsAsItWas(string name) => Same(name, Told(Requests().Single(one => one.Name == name).Request));

    [Fact]
    public void StimuliOfThePalateKit_AreAsTheyWere()
    {
        TasteStimulus[] stimuli =
        [
            TasteStimulus.Sugar, TasteStimulus.Tartaric, TasteStimulus.Lactic, TasteStimulus.Citric, TasteStimulus.Caffeine,
            TasteStimulus.TannicAcid, TasteStimulus.Acetic, TasteStimulus.Diacetyl, TasteStimulus.Acetaldehyde,
        ];
        Same("palate-kit", string.Concat(stimuli.Select(stimulus => Json(stimulus) + "\n" + Json(PalateKit.Plan(stimulus, [0.5, 1, 2, 4], 50, new DosingSyringe(10, 0.2))) + "\n")));
    }

    private static IEnumerable<(string Name, TrialRequest Request)> Requests()
    {
        foreach (var additive in Additives)
        {
            var usual = BenchScenario.Ladder(additive, additive.CoarseStepGramsPerLiter, 2 * additive.CoarseStepGramsPerLiter, 3 * additive.CoarseStepGramsPerLiter);
            yield return ("ladder-" + additive.Code, usual);
            yield return ("water-" + additive.Code, usual with { Factors = [usual.Factors[0] with { Liquid = StockLiquid.Water }], WithTwin = false });
        }

        var acid = BenchScenario.Ladder(TrialAdditive.Tartaric, 0.5, 1.0);
        var sweet = TrialFactor.Usual(TrialAdditive.Sucrose, 2);
        yield return ("bracket", acid with { Kind = TrialPlanKind.BracketThenHalve });
        yield return ("grid", acid with { Kind = TrialPlanKind.Grid, Factors = [acid.Factors[0], sweet], Acids = AcidProfile.GrapeWine });
        yield return ("free-glass", acid with { Kind = TrialPlanKind.FreeGlass, Factors = [acid.Factors[0], sweet] });
        yield return ("held", BenchScenario.Ladder(TrialAdditive.Tannin, 0.05, 0.1) with { Kind = TrialPlanKind.Held, StartsOn = new DateOnly(2026, 11, 2) });
        yield return ("unknown-wine", acid with { Wine = new BenchWine(5, 0.5) });
        yield return ("kitchen-scale-only", acid with { Equipment = new([BenchScenario.Kitchen], new DosingSyringe(5, 0.5)) });
        yield return ("many-faults", acid with { Wine = new BenchWine(-1, -1, 3, 90, 9, 900, -4), GlassMilliliters = 1, PourMilliliters = 500, Tasters = ["", "Ada", "Ada"], Factors = [acid.Factors[0] with { DosesGramsPerLiter = [2, 1], FinestStepGramsPerLiter = 0, LargestGramsPerLiter = -1 }] });
        yield return ("one-taster", acid with { Tasters = ["Ada"], Law = Law.Eu });
    }

    private static string Told(TrialRequest request)
    {
        var planned = TrialPlanning.Plan(request);
        var text = new StringBuilder(Json(planned)).Append('\n');
        if (planned.Trial is not { } trial)
        {
            return text.ToString();
        }

        text.Append(Json(SampleBudget.Of(trial, trial.Current))).Append('\n');
        foreach (var glass in trial.Current.Glasses)
        {
            text.Append(Json(trial.Predict(glass))).Append('\n');
        }

        if (request.Kind is TrialPlanKind.FreeGlass)
        {
            return text.ToString();
        }

        var liking = 3;
        foreach (var taster in request.Tasters)
        {
            foreach (var glass in trial.Current.Glasses)
            {
                liking = (liking * 7 % 9) + 1;
                trial = trial.WithScore(new GlassScore(taster, glass.Code, (JustAboutRight)(liking % 3), JustAboutRight.Right, null, null, liking, "as it is"));
            }
        }

        text.Append(Json(TrialReview.Of(trial, 1))).Append('\n');
        foreach (var glass in trial.Current.Glasses.Where(glass => glass.Role is GlassRole.Dose))
        {
            var chosen = trial.Choose(glass.Code);
            text.Append(Json(ScaleUp.Plan(new ScaleUpRequest(request.Wine, chosen.ChosenDoses, request.Equipment.Scales, IsStabilized: false)))).Append('\n');
        }

        return text.ToString();
    }

    private static void Same(string name, string now)
    {
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_WRITE_SNAPSHOTS") is { Length: > 0 } target)
        {
            File.WriteAllText(Path.Combine(target, "Bench", name + ".txt"), now);
        }

        Assert.Equal(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Snapshots", "Bench", name + ".txt")), now, ignoreLineEndingDifferences: true);
    }

    private static string Json<T>(T value) => Rounded(JsonSerializer.SerializeToNode(value, Plain))?.ToJsonString(Plain) ?? "none";

    // Few enough digits that another machine's last bit does not show.
    private static JsonNode? Rounded(JsonNode? node) => node switch
    {
        JsonObject one => new JsonObject(one.Select(pair => KeyValuePair.Create(pair.Key, Rounded(pair.Value)))),
        JsonArray list => new JsonArray([.. list.Select(Rounded)]),
        JsonValue value when value.GetValueKind() is JsonValueKind.Number && value.TryGetValue<double>(out var number) =>
            JsonValue.Create(double.Parse(number.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)),
        null => null,
        _ => node.DeepClone(),
    };
}
