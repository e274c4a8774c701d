using System.Collections.Immutable;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>What a guest's pages stand on: codes and their own answers. Doses, roles and other people's answers are not in it.</summary>
/// <param name="Code">The guest code, for the links.</param>
/// <param name="BatchName">Name of the batch.</param>
/// <param name="Taster">Who.</param>
/// <param name="Codes">Codes in the order of this taster.</param>
/// <param name="Scores">Their answers by code.</param>
/// <param name="Order">Their order, best first; null as long as they gave none.</param>
/// <param name="Names">Who tastes, and whether the place is taken.</param>
public sealed record GuestTasting(
    string Code,
    string BatchName,
    string Taster,
    ImmutableArray<string> Codes,
    IReadOnlyDictionary<string, GlassScore> Scores,
    ImmutableArray<string>? Order,
    IReadOnlyList<(string Name, bool IsTaken)> Names)
{
    /// <summary>The first glass without an answer; null when every one has one.</summary>
    public string? Next => Codes.FirstOrDefault(code => !Scores.ContainsKey(code));

    /// <summary>The order to begin with: the one that was given, else by liking.</summary>
    public ImmutableArray<string> Ranked => Order ?? [.. Codes.OrderByDescending(code => Scores.GetValueOrDefault(code)?.Liking ?? 0)];

    /// <summary>What the pages may know of a trial.</summary>
    internal static GuestTasting Of(HttpContext context, GuestPass pass, string code)
    {
        var (stored, taster) = (pass.Stored, pass.Taster ?? "");
        var trial = stored.Trial;
        var place = trial.Request.Tasters.IndexOf(taster);
        var taken = context.RequestServices.GetRequiredService<Store>().ReadSeats(stored.Id);
        return new(
            GuestDoor.Spelled(code),
            DashboardHosting.VisitOf(context).Snapshot.Find(stored.Batch.Value)?.View.Batch.Name ?? "",
            taster,
            place < 0 ? [] : trial.Current.CodesFor(place),
            trial.Current.Scores.Where(score => score.Taster == taster).ToDictionary(score => score.Code, StringComparer.Ordinal),
            trial.Current.Rankings.LastOrDefault(ranking => ranking.Taster == taster)?.Codes,
            [.. trial.Request.Tasters.Select(name => (name, taken.Contains(name)))]);
    }
}
