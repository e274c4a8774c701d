namespace FermentWatch.Infrastructure.Influx;

/// <summary>What became of a step of the copy.</summary>
/// <param name="Points">Points that the server took.</param>
/// <param name="SetAside">Points left out: no line could be made of them, or the server refuses them while it takes others.</param>
/// <param name="Trouble">Why nothing more could be written now; null when all was.</param>
public sealed record CopyResult(long Points, IReadOnlyList<string> SetAside, WriteOutcome? Trouble);

/// <summary>
/// Writes lines in bounded pieces. When a piece is refused it is halved until the line at fault is alone; that one is left out, but only
/// when the server takes another line at the same time: else the fault lies with the server or the way in, and nothing may be left out.
/// </summary>
public sealed class LineWriter(InfluxTarget target, string probe)
{
    /// <summary>Most lines of one request.</summary>
    public const int MostLines = 5000;

    /// <summary>Most characters of one request, but for a single line.</summary>
    public const int MostCharacters = 1_000_000;

    /// <summary>Writes lines in order and stops at the first trouble.</summary>
    public async Task<CopyResult> WriteAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        var aside = new List<string>();
        var sound = new List<string>(lines.Count);
        foreach (var line in lines)
        {
            if (LineCheck.Read(line).Problem is { } problem)
            {
                aside.Add($"{Head(line)} {problem}");
            }
            else
            {
                sound.Add(line);
            }
        }

        long points = 0;
        for (var at = 0; at < sound.Count;)
        {
            var piece = PieceOf(sound, at);
            var (written, trouble) = await PieceAsync(piece, aside, cancellationToken);
            points += written;
            if (trouble is not null)
            {
                return new CopyResult(points, aside, trouble);
            }

            at += piece.Count;
        }

        return new CopyResult(points, aside, null);
    }

    private static List<string> PieceOf(List<string> lines, int from)
    {
        var end = from;
        var characters = 0L;
        while (end < lines.Count && end - from < MostLines && (end == from || characters + lines[end].Length < MostCharacters))
        {
            characters += lines[end++].Length + 1;
        }

        return lines.GetRange(from, end - from);
    }

    private async Task<(long Written, WriteOutcome? Trouble)> PieceAsync(List<string> piece, List<string> aside, CancellationToken cancellationToken)
    {
        var outcome = await target.WriteAsync(piece, cancellationToken);
        if (outcome is WriteOutcome.Written)
        {
            return (piece.Count, null);
        }

        if (outcome is not WriteOutcome.Refused { IsAboutLines: true } refused)
        {
            return (0, outcome);
        }

        if (piece.Count == 1)
        {
            if (await target.WriteAsync([probe], cancellationToken) is not WriteOutcome.Written)
            {
                return (0, refused with { IsAboutLines = false });
            }

            aside.Add($"{Head(piece[0])} {refused.Because}");
            return (0, null);
        }

        var half = piece.Count / 2;
        var (first, trouble) = await PieceAsync(piece.GetRange(0, half), aside, cancellationToken);
        if (trouble is not null)
        {
            return (first, trouble);
        }

        var (second, more) = await PieceAsync(piece.GetRange(half, piece.Count - half), aside, cancellationToken);
        return (first + second, more);
    }

    private static string Head(string line) =>
        new([.. line.Take(200).Select(character => char.IsControl(character) ? '\uFFFD' : character)]);
}
