using System.Globalization;
using System.Text;

namespace FermentWatch.Monitoring.Tests.Telemetry;

/// <summary>Makes messages that a broken, mistaken or malicious device might send. Deterministic for a seed.</summary>
internal sealed class HostilePayload(int seed)
{
    private static readonly string[] Numbers =
    [
        "NaN", "nan", "-inf", "Infinity", "1e308", "-1e308", "1e999", "-1", "0", "-0", "1,012", "1.012,5", "1012", "12", "68", "293.15",
        "null", "true", "false", "\"\"", "\"1.050\"", "\" 1.05 \"", "\"1,05\"", "[]", "{}", "[1.05]", "{\"a\":1}", "0x10", "1_000", "1.", ".5",
        "+1.05", "01.05", "1e", "--1", "\"\\ud800\"", "\"\\u0000\"", "\"a\\nb\"", "99999999999999999999999999999999999999999999999999999999999999999999",
        "1.0500000000000000000000000000000000000000000000000000000000000000000000000000001", "1.050", "1.02", "0.998",
    ];

    private static readonly string[] Times =
    [
        "\"2026-03-14T09:26:53Z\"", "\"2026-03-14T09:26:53\"", "\"2026-02-30T09:26:53Z\"", "\"\"", "0", "null", "1773480413", "\"9999-12-31T23:59:59-23:59\"",
        "\"0001-01-01T00:00:00+23:59\"", "\"2026-03-14 09:26:53.123456789+0100\"", "1e300",
    ];

    private readonly Random _random = new(seed);

    /// <summary>A valid message with one to three bytes changed, so that most of them still reach the reading of a number.</summary>
    public byte[] Mutated(bool json)
    {
        var sugar = 0.99 + (_random.NextDouble() * 0.13);
        var warmth = 5 + (_random.NextDouble() * 30);
        var text = json
            ? string.Create(CultureInfo.InvariantCulture, $"{{\"sg\":{sugar:0.0000},\"t\":[{warmth:0.00},1],\"at\":\"2026-03-{_random.Next(1, 29):00}T09:26:53Z\"}}")
            : string.Create(CultureInfo.InvariantCulture, $"{sugar:0.0000}");
        var bytes = Encoding.UTF8.GetBytes(text).ToList();
        for (var changes = _random.Next(1, 4); changes > 0 && bytes.Count > 0; changes--)
        {
            Change(bytes);
        }

        return [.. bytes];
    }

    /// <summary>Well-formed JSON around values that are not what they should be.</summary>
    public byte[] Misfilled() => Encoding.UTF8.GetBytes(_random.Next(6) switch
    {
        0 => Pick(Numbers),
        1 => $"{{\"sg\":{Pick(Numbers)},\"t\":[{Pick(Numbers)}],\"at\":{Pick(Times)}}}",
        2 => $"{{\"sg\":{Pick(Numbers)},\"sg\":{Pick(Numbers)},\"t\":[{Pick(Numbers)}],\"at\":{Pick(Times)}}}",
        3 => $"\uFEFF {{ \"t\" : [ {Pick(Numbers)} , {Pick(Numbers)} ] , \"sg\" : {Pick(Numbers)} }} ",
        4 => $"{{\"sg\":{Pick(Numbers)},\"\\ud800\":{Pick(Numbers)},\"t\":{Pick(Numbers)},\"at\":{Pick(Times)}}}{(_random.Next(4) == 0 ? Pick(Numbers) : string.Empty)}",
        _ => $"{Pick([" ", "\t", "", "\u00a0", "\r\n"])}{Pick(Numbers)}{Pick([" ", "", "\0", "%", " SG", "\n"])}",
    });

    /// <summary>Bytes that mean nothing, deep nesting, and great length.</summary>
    public byte[] Meaningless()
    {
        switch (_random.Next(12))
        {
            case 0:
                return Encoding.UTF8.GetBytes(new string('[', _random.Next(1, 10000)));
            case 1:
                var levels = _random.Next(60, 70);
                return Encoding.UTF8.GetBytes($"{{\"t\":{new string('[', levels)}1{new string(']', levels)},\"sg\":1.05}}");
            case 2:
                return [.. Enumerable.Repeat((byte)'9', _random.Next(1, 20000))];
            case 3:
                return Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat("{\"sg\":", _random.Next(1, 1700))));
            default:
                var bytes = new byte[_random.Next(0, 200)];
                _random.NextBytes(bytes);
                return bytes;
        }
    }

    private void Change(List<byte> bytes)
    {
        var at = _random.Next(bytes.Count);

        // Half of the changes hit a digit, where a number stays a number or nearly one.
        for (var tries = 0; tries < 12 && _random.Next(4) != 0 && !char.IsAsciiDigit((char)bytes[at]); tries++)
        {
            at = _random.Next(bytes.Count);
        }

        switch (_random.Next(6))
        {
            case 0:
                bytes[at] = (byte)_random.Next(256);
                break;
            case 1:
                bytes.RemoveAt(at);
                break;
            case 2:
                bytes.Insert(at, bytes[at]);
                break;
            case 3:
                bytes[at] = (byte)"0123456789.,-+eE"[_random.Next(16)];
                break;
            case 4:
                bytes[at] ^= (byte)(1 << _random.Next(8));
                break;
            default:
                bytes[at] = (byte)"0123456789"[_random.Next(10)];
                break;
        }
    }

    private string Pick(string[] from) => from[_random.Next(from.Length)];
}
