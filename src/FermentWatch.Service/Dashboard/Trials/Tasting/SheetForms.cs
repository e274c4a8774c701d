using System.Collections.Immutable;
using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>Types a taster's paper sheet back: a digit a box.</summary>
internal static class SheetForms
{
    /// <summary>The fields of a glass, in the order of the paper: four scales, liking, place in the order.</summary>
    public static IReadOnlyList<string> Boxes { get; } = [.. ScoreFields.Scales.Select(scale => scale.Name), "liking", "rank"];

    /// <summary>What stands in a field before it is changed.</summary>
    public static string Typed(TrialFlight flight, string taster, string code, string box)
    {
        var score = flight.Scores.LastOrDefault(one => one.Taster == taster && one.Code == code);
        var order = flight.Rankings.LastOrDefault(ranking => ranking.Taster == taster);
        return box switch
        {
            "liking" => Digit(score?.Liking),
            "rank" => order is null ? "" : Digit(order.Codes.IndexOf(code) + 1),
            "note" => score?.Note ?? "",
            _ => score?.Of(ScoreFields.Scales.First(scale => scale.Name == box).Quality) is { } answer
                ? Digit(ScoreFields.Stops.ToList().FindIndex(stop => stop.Answer == answer) + 1)
                : "",
        };
    }

    public static async Task<IResult> SaveAsync(SentForm form, CancellationToken cancellation)
    {
        if (TrialHosting.Find(form.Context) is not { } found || !found.Trial.Request.Tasters.Contains(form["taster"]) || found.Trial.Free is not null)
        {
            return TrialHosting.NotFound(form.Context);
        }

        var taster = form["taster"];
        var codes = found.Trial.Current.CodesFor(found.Trial.Request.Tasters.IndexOf(taster));
        var faults = Faults(form, codes).ToList();
        if (faults.Count > 0)
        {
            return FormHosting.Again<SheetPage>(form, new() { ["Stored"] = found, ["Taster"] = taster, ["State"] = new TrialTyped(InstrumentForms.TypedOf(form), new Dictionary<string, string>(), faults) });
        }

        if (found.State is TrialState.Mixing)
        {
            await DoorForms.BeginAsync(form, found, cancellation);
        }

        var scores = codes.Select(code => ScoreFields.Read(taster, code, name => form[name + "-" + code])).OfType<GlassScore>().ToList();
        var places = codes.Select(code => (Code: code, Place: Number(form["rank-" + code]))).ToList();
        var ranking = places.TrueForAll(place => place.Place is not null) ? new GlassRanking(taster, [.. places.OrderBy(place => place.Place).Select(place => place.Code)]) : null;
        await form.Service<Store>().ChangeTrialAsync(
            found.Id,
            was =>
            {
                var trial = scores.Aggregate(was.Trial, (before, score) => before.WithScore(score));
                return was with { Trial = ranking is null ? trial : trial.WithRanking(ranking) };
            },
            cancellation);
        form.Service<Board>().Renew(Board.TopicOfTrial(found.Id));
        return FormHosting.Back(form, string.Create(CultureInfo.InvariantCulture, $"trials/{found.Id}/tasting"));
    }

    private static IEnumerable<string> Faults(SentForm form, ImmutableArray<string> codes)
    {
        foreach (var (code, box) in codes.SelectMany(code => Boxes.Select(box => (code, box))))
        {
            var highest = Highest(box, codes.Length);
            if (form[box + "-" + code] is { Length: > 0 } typed && !(Number(typed) is { } number && number >= 1 && number <= highest))
            {
                yield return TrialText.Of("sheet-fault", code, TrialText.Of("box-" + box), typed.Length > 10 ? typed[..10] : typed, highest);
            }
        }

        var ranks = codes.Select(code => form["rank-" + code]).Where(rank => rank.Length > 0).ToList();
        if (ranks.Count > 0 && (ranks.Count < codes.Length || ranks.Distinct().Count() < ranks.Count))
        {
            yield return TrialText.Of("sheet-ranks", codes.Length);
        }
    }

    private static int Highest(string box, int glasses) => box switch { "liking" => GlassScore.HighestLiking, "rank" => glasses, _ => ScoreFields.Stops.Count };

    private static int? Number(string typed) => int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    private static string Digit(int? number) => number is > 0 ? number.Value.ToString(CultureInfo.InvariantCulture) : "";
}
