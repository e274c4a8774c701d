using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.System.Tests.Dashboard;
using Xunit;

namespace FermentWatch.System.Tests.Preferences;

/// <summary>Pages in a language whose every text stands in brackets: a word outside them is written into the page itself, where no translator finds it.</summary>
public sealed partial class BracketTests(ITestOutputHelper output)
{
    private static readonly string[] Pages =
    [
        "", "batch/quince", "batch/quince?part=tail", "batch/damson?view=gravity", "batch/heather", "batch/elder", "alerts", "messages", "settings",
        "batch/quince/table", "preferences", "preferences/units", "preferences/zone", "preferences/quiet", "connect", "nowhere",
        "bench", "bench/alcohol-from-gravity", "bench/sweeten?sent=yes&volume=20&present-gravity=0.992&alcohol=12&sugar=2&aim=medium&titratable-acidity=6&ph=3.3&sweetener=dextrose",
        "bench/sorbate?sent=yes&volume=20&alcohol=9&ph=3.6&active-ferment=no&malolactic=prevented", "bench/alcohol-from-gravity?sent=yes&original-gravity=1.05&present-gravity=1.06",
        "bench/restart-plan?sent=yes&volume=20&original-gravity=1.100&present-gravity=1.030&temperature=14&ph=3.0&tolerance=14", "bench/step-feeding?sent=yes&volume=2&original-gravity=1.08&sweetener=honey&fed-masses=9",
        "bench/additive-limits?sent=yes&additive=oak-chips&dose=6&already-there=1", "bench/nutrient-marks?sent=yes&volume=10&original-gravity=1.1&nitrogen=80&mead=yes",
    ];

    // Names of the scenario, of addresses and of standards.
    private static readonly string[] NotWords =
    [
        "Low Barn", "cellar", "Quince mead", "Rhubarb and rose", "Heather, dry", "Elderberry No. 2", "Damson wine", "quince", "heather", "elder", "damson", "Vessel 1", "Vessel 2", "Vessel 6", "float", "agrees",
    ];

    [Fact]
    public async Task PagesOfACellar_HaveNoWordOfTheirOwn()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        await LanguageTests.ChooseAsync(site.Client, "qps-ploc");
        var found = new List<string>();
        foreach (var page in Pages)
        {
            using var answer = await site.Client.GetAsync(page, TestContext.Current.CancellationToken);
            found.AddRange(Outside(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).Select(words => $"{page}: {words}"));
        }

        output.WriteLine(string.Join('\n', found.Distinct()));
        Assert.Empty(found);
    }

    /// <summary>Runs of letters outside the brackets in what a reader sees or hears of a page.</summary>
    internal static IEnumerable<string> Outside(string html)
    {
        var shown = Inline().Replace(Unseen().Replace(html, " "), "");
        var spoken = Spoken().Matches(shown).Select(match => match.Groups[1].Value);
        foreach (var text in Tag().Split(shown).Concat(spoken).Select(WebUtility.HtmlDecode))
        {
            var rest = text!;
            while (Innermost().Replace(rest, " ") is var less && less != rest)
            {
                rest = less;
            }

            foreach (var name in NotWords)
            {
                rest = rest.Replace(name, " ", StringComparison.Ordinal);
            }

            rest = Dates().Replace(rest, " ");
            if (Words().IsMatch(rest))
            {
                yield return rest.Trim();
            }
        }
    }

    // What devices sent, samples of configuration, and addresses stay as they are.
    [GeneratedRegex("<style.*?</style>|<script.*?</script>|<p class=\"raw\">.*?</p>|<pre.*?</pre>|<code.*?</code>|<head>.*?<title>", RegexOptions.Singleline)]
    private static partial Regex Unseen();

    [GeneratedRegex("(?:aria-label|alt|title|placeholder)=\"([^\"]*)\"")]
    private static partial Regex Spoken();

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("⟦[^⟦⟧]*⟧")]
    private static partial Regex Innermost();

    // Tags that a text may hold.
    [GeneratedRegex("</?(?:a|b|i|em|strong|span|q|time|tspan)(?: [^>]*)?>")]
    private static partial Regex Inline();

    // Days, months and units come from the language's own formats and from standards.
    [GeneratedRegex(@"(?<!\p{L})(?:(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day|January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec|vol)\b")]
    private static partial Regex Dates();

    [GeneratedRegex(@"\p{L}{3,}")]
    private static partial Regex Words();
}
