using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Brokers;

/// <summary>The words of the page about the broker, from <c>Texts/Broker.resx</c>.</summary>
internal static class BrokerText
{
    private static readonly TextSource Source = new("Broker");

    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>Why a trial failed, and what would be right.</summary>
    public static string Of(Reason problem, Reader reader)
    {
        var advice = Source.Find("advice-" + problem.Code);
        var names = problem.Values.Select(value => value is ReasonValue.Name name ? name.Text : "").ToList();
        if (problem.Code is BrokerProblems.NotAuthorized or BrokerProblems.Credentials && names.FirstOrDefault() is null or "")
        {
            return Of("no-user");
        }

        if (problem.Code is BrokerProblems.NotAuthorized or BrokerProblems.Credentials)
        {
            return Of("credentials", names[0]);
        }

        var what = ReasonWords.Sentence(problem, reader);
        return advice is null ? what : what + " " + string.Format(PluralForms.Present, advice, [.. names, "", ""]);
    }
}
