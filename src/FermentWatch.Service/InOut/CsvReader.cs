using System.Text;

namespace FermentWatch.Service.InOut;

/// <summary>One record of a file.</summary>
/// <param name="Line">Line on which it begins, from 1.</param>
/// <param name="Cells">Its cells; for a malformed one, what was read of it.</param>
/// <param name="IsMalformed">A quote that is never closed, or a record beyond all measure.</param>
public sealed record CsvRecord(int Line, IReadOnlyList<string> Cells, bool IsMalformed);

/// <summary>Reads separated values record by record (RFC 4180, any of three separators). Empty lines and lines that begin with # are passed over.</summary>
internal sealed class CsvReader(TextReader text, char separator)
{
    private const int LongestRecord = 20_000;
    private const int MostCells = 200;

    private int _line = 1;

    /// <summary>The records that are left.</summary>
    public IEnumerable<CsvRecord> Records()
    {
        while (text.Peek() is var next and >= 0)
        {
            var begin = _line;
            if (next is '\r' or '\n' or '#')
            {
                SkipLine();
                continue;
            }

            yield return Record(begin);
        }
    }

    private CsvRecord Record(int begin)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        var (isQuoted, wasQuoted, length) = (false, false, 0);
        while (text.Read() is var read && read >= 0)
        {
            var letter = (char)read;
            if (++length > LongestRecord || cells.Count >= MostCells)
            {
                SkipLine();
                return new CsvRecord(begin, cells, IsMalformed: true);
            }

            if (isQuoted)
            {
                if (letter == '"' && text.Peek() == '"')
                {
                    text.Read();
                    cell.Append('"');
                }
                else if (letter == '"')
                {
                    isQuoted = false;
                }
                else
                {
                    _line += letter == '\n' ? 1 : 0;
                    cell.Append(letter);
                }
            }
            else if (letter == '"' && cell.Length == 0 && !wasQuoted)
            {
                (isQuoted, wasQuoted) = (true, true);
            }
            else if (letter == separator)
            {
                cells.Add(cell.ToString());
                cell.Clear();
                wasQuoted = false;
            }
            else if (letter is '\n' or '\r')
            {
                if (letter == '\r' && text.Peek() == '\n')
                {
                    text.Read();
                }

                _line++;
                cells.Add(cell.ToString());
                return new CsvRecord(begin, cells, IsMalformed: false);
            }
            else
            {
                cell.Append(letter);
            }
        }

        cells.Add(cell.ToString());
        return new CsvRecord(begin, cells, IsMalformed: isQuoted);
    }

    private void SkipLine()
    {
        while (text.Read() is var read && read >= 0)
        {
            if (read is '\n' or '\r')
            {
                if (read == '\r' && text.Peek() == '\n')
                {
                    text.Read();
                }

                _line++;
                return;
            }
        }
    }
}
