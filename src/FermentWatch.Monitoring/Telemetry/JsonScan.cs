using System.Text;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Looks over JSON bytes outside strings, before or after the strict parser refused them.</summary>
internal static class JsonScan
{
    /// <summary>How deep objects and arrays are nested; a rough count on bytes that are not JSON.</summary>
    public static int Nesting(ReadOnlySpan<byte> json)
    {
        var depth = 0;
        var deepest = 0;
        for (var at = 0; at < json.Length; at++)
        {
            switch (json[at])
            {
                case (byte)'"':
                    at = EndOfString(json, at);
                    break;
                case (byte)'{' or (byte)'[':
                    deepest = Math.Max(deepest, ++depth);
                    break;
                case (byte)'}' or (byte)']':
                    depth--;
                    break;
                default:
                    break;
            }
        }

        return deepest;
    }

    /// <summary>Puts quotation marks around NaN and Infinity, in any spelling, so that only their own field fails; null when there are none.</summary>
    public static byte[]? QuoteNotFinite(ReadOnlySpan<byte> json)
    {
        List<byte>? mended = null;
        var copied = 0;
        var at = 0;
        while (at < json.Length)
        {
            if (json[at] == (byte)'"')
            {
                at = EndOfString(json, at) + 1;
            }
            else if (IsWord(json[at]))
            {
                var start = at;
                while (at < json.Length && IsWord(json[at]))
                {
                    at++;
                }

                if (at - start <= 9 && PlainNumber.IsNotFinite(Encoding.ASCII.GetString(json[start..at])))
                {
                    mended ??= [];
                    mended.AddRange(json[copied..start]);
                    mended.Add((byte)'"');
                    mended.AddRange(json[start..at]);
                    mended.Add((byte)'"');
                    copied = at;
                }
            }
            else
            {
                at++;
            }
        }

        mended?.AddRange(json[copied..]);
        return mended?.ToArray();
    }

    private static bool IsWord(byte character) => char.IsAsciiLetterOrDigit((char)character) || character is (byte)'+' or (byte)'-' or (byte)'.';

    /// <summary>Position of the closing quotation mark, or of the last byte when there is none.</summary>
    private static int EndOfString(ReadOnlySpan<byte> json, int opening)
    {
        for (var at = opening + 1; at < json.Length; at++)
        {
            if (json[at] == (byte)'\\')
            {
                at++;
            }
            else if (json[at] == (byte)'"')
            {
                return at;
            }
        }

        return json.Length - 1;
    }
}
