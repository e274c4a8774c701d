using System.Collections.Immutable;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Trials.Tasting;

/// <summary>An order of glasses as a form sends it: the codes from best to worst, and a button that moves one.</summary>
internal static class RankForm
{
    /// <summary>The order after the button that was pressed.</summary>
    public static ImmutableArray<string> Read(SentForm form)
    {
        ImmutableArray<string> order = [.. form.Fields["order"].OfType<string>().Take(12)];
        var (way, code) = form["move"].Split('-', 2) is [var first, var second] ? (first, second) : ("", "");
        var at = order.IndexOf(code);
        var to = way switch { "up" => at - 1, "down" => at + 1, _ => at };
        return at < 0 || to < 0 || to >= order.Length || to == at ? order : order.RemoveAt(at).Insert(to, code);
    }
}
