using System.Globalization;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Counts of one kind of alert over many recordings.</summary>
/// <param name="name">What is counted.</param>
/// <param name="unit">Unit of the delays.</param>
/// <param name="late">A longer delay is listed with what was wrong.</param>
internal sealed class AlertTally(string name, string unit, double late)
{
    private readonly List<double> _delays = [];
    private readonly List<string> _wrong = [];
    private int _sent;
    private int _right;
    private int _wanted;
    private int _found;
    private int _unseen;

    /// <summary>One alert was raised; right when it was about something true.</summary>
    public void Sent(bool isRight, string where)
    {
        _sent++;
        _right += isRight ? 1 : 0;
        if (!isRight)
        {
            _wrong.Add(where);
        }
    }

    /// <summary>Something true was to be told; the delay after the earliest moment at which it could be, or null when it was missed.</summary>
    public void Wanted(double? delay, string where)
    {
        _wanted++;
        if (delay is { } after)
        {
            _found++;
            _delays.Add(Math.Max(0, after));
            if (after > late)
            {
                _wrong.Add(string.Create(CultureInfo.InvariantCulture, $"late {where} ({after:0.0} {unit})"));
            }
        }
        else
        {
            _wrong.Add("missed " + where);
        }
    }

    /// <summary>Something true that nothing measured showed: beside the recall.</summary>
    public void Unseen() => _unseen++;

    public void Add(AlertTally other)
    {
        (_sent, _right, _wanted, _found, _unseen) = (_sent + other._sent, _right + other._right, _wanted + other._wanted, _found + other._found, _unseen + other._unseen);
        _delays.AddRange(other._delays);
        _wrong.AddRange(other._wrong);
    }

    /// <summary>One line of the table.</summary>
    public string Line() => string.Create(
        CultureInfo.InvariantCulture,
        $"{name,-30} precision {Share(_right, _sent)}  recall {Share(_found, _wanted)}  delay median {Quantile(0.5):0.00} P95 {Quantile(0.95):0.00} {unit}{(_unseen > 0 ? $"  ({_unseen} more that the sensor never showed)" : "")}");

    /// <summary>What was wrong or missed, a few of them.</summary>
    public string Wrongs() => _wrong.Count == 0 ? "" : $"  {name}: " + string.Join(", ", _wrong.Order(StringComparer.Ordinal).Take(30)) + (_wrong.Count > 30 ? ", ..." : "");

    private static string Share(int part, int all) => all == 0 ? "  -   (0)" : string.Create(CultureInfo.InvariantCulture, $"{(double)part / all:0.000} ({part}/{all})");

    private double Quantile(double share)
    {
        if (_delays.Count == 0)
        {
            return double.NaN;
        }

        _delays.Sort();
        return _delays[Math.Min(_delays.Count - 1, (int)(share * _delays.Count))];
    }
}
