using FermentWatch.Service.InOut;
using FsCheck.Xunit;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>Quoting as RFC 4180, section 2; formula starts as OWASP, 'CSV Injection' lists them.</summary>
public sealed class CsvCellsTests
{
    [Theory]
    [InlineData("aaa", "aaa")]
    [InlineData("b\"bb", "\"b\"\"bb\"")]
    [InlineData("b\r\nbb", "\"b\r\nbb\"")]
    [InlineData("x,y", "\"x,y\"")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+1", "'+1")]
    [InlineData("-1", "'-1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\t=1", "'\t=1")]
    [InlineData("\r=1", "\"'\r=1\"")]
    public void Text_IsQuotedAndNoFormula(string text, string cell)
    {
        Assert.Equal(cell + "\r\n", CsvCells.Row(text));
    }

    [Fact]
    public void Numbers_StayNumbersOfAllTheirDigits()
    {
        Assert.Equal("-1.5,0.1,0.30000000000000004,,7\r\n", CsvCells.Row(-1.5, 0.1, 0.1 + 0.2, null, 7));
    }

    [Property(MaxTest = 300)]
    public void AnyTexts_ComeBackAsTheyWere(string?[] texts)
    {
        // An empty line is no record, one that begins with # a comment; text that has the apostrophe already is the one that changes.
        var cells = texts.Select(text => text ?? "").Prepend("first").Where(text => !text.StartsWith('\'')).ToArray();
        var record = Assert.Single(new CsvReader(new StringReader(CsvCells.Row([.. cells])), ',').Records());
        Assert.False(record.IsMalformed);
        Assert.Equal(cells, record.Cells.Select(CsvCells.Original));
    }

    [Theory]
    [InlineData("a,b\r\nc,d", 2)]
    [InlineData("a,\"b\nb\",c\n\n# remark\nd", 2)]
    public void Lines_BecomeRecords(string text, int count)
    {
        Assert.Equal(count, new CsvReader(new StringReader(text), ',').Records().Count());
    }

    [Fact]
    public void QuoteThatIsNeverClosed_SpoilsItsRecordAlone()
    {
        var text = "a,\"" + string.Concat(Enumerable.Repeat("x,y\n", 6000)) + "last,row\n";
        var records = new CsvReader(new StringReader(text), ',').Records().ToList();
        Assert.True(records[0].IsMalformed);
        Assert.Equal(["last", "row"], records[^1].Cells);
        Assert.Equal(6001, records[^1].Line);
    }
}
