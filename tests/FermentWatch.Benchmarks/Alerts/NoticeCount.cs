using System.Globalization;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Notices that leave, by batch and week.</summary>
internal sealed class NoticeCount
{
    private readonly List<int> _weeks = [];
    private readonly List<double> _batches = [];
    private readonly List<string> _rules = [];
    private int _digests;

    /// <summary>Counts what one batch sent.</summary>
    public void Add(AlertChain chain, Recording recording)
    {
        chain.Finish();
        var start = recording.Whole.Batch.InoculatedAt;
        var weeks = (int)Math.Max(1, Math.Ceiling((recording.End - start).TotalDays / 7));
        var counts = new int[weeks];
        foreach (var notice in chain.Sent)
        {
            counts[Math.Clamp((int)((notice.At - start).TotalDays / 7), 0, weeks - 1)]++;
        }

        _weeks.AddRange(counts);
        _batches.Add(chain.Sent.Count / Math.Max(1, (recording.End - start).TotalDays / 7));
        _rules.AddRange(chain.Sent.Select(notice => notice.Rule));
        _digests += chain.Digests;
    }

    public void Add(NoticeCount other)
    {
        _weeks.AddRange(other._weeks);
        _batches.AddRange(other._batches);
        _rules.AddRange(other._rules);
        _digests += other._digests;
    }

    /// <summary>Two lines: the figures, and of what they are made.</summary>
    public string Lines(string who)
    {
        _weeks.Sort();
        _batches.Sort();
        var text = string.Create(
            CultureInfo.InvariantCulture,
            $"notices that are not urgent, {who}: a batch and week median {_weeks[_weeks.Count / 2]}, P95 {_weeks[Math.Min(_weeks.Count - 1, (int)(_weeks.Count * 0.95))]}, mean {_weeks.Average():0.00}; a batch's own mean, median {_batches[_batches.Count / 2]:0.00}; digests a week {(double)_digests / _weeks.Count:0.00}");
        return text + "\n  of these: " + string.Join(", ", _rules.CountBy(rule => rule).OrderByDescending(rule => rule.Value).Take(16).Select(rule => string.Create(CultureInfo.InvariantCulture, $"{rule.Key} {rule.Value}")));
    }
}
