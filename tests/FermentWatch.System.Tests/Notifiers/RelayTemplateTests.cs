using System.Text;
using System.Text.Json;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

public sealed class RelayTemplateTests
{
    private static readonly NoticeMessage Notice = new("key-1", "A \"title\"", "Line\n{title} \\ é", Severity.Urgent, Silent: false, Link: null);

    [Fact]
    public void Values_CannotBreakTheJsonAndAreNotTemplatesThemselves()
    {
        using var body = Fill("""{"a":["{text}",1,null,true],"b":{"c":"<{title}>"},"l":"at {link}"}""", "4");

        Assert.Equal("Line\n{title} \\ é", body.RootElement.GetProperty("a")[0].GetString());
        Assert.Equal(1, body.RootElement.GetProperty("a")[1].GetInt32());
        Assert.Equal("<A \"title\">", body.RootElement.GetProperty("b").GetProperty("c").GetString());
        Assert.Equal("at ", body.RootElement.GetProperty("l").GetString());
    }

    [Theory]
    [InlineData("5", JsonValueKind.Number)]
    [InlineData("-2", JsonValueKind.Number)]
    [InlineData("high", JsonValueKind.String)]
    public void PriorityAlone_IsANumberWhenItIsWhole(string priority, JsonValueKind kind)
    {
        using var body = Fill("""{"p":"{priority}","q":"p{priority}"}""", priority);

        Assert.Equal(kind, body.RootElement.GetProperty("p").ValueKind);
        Assert.Equal("p" + priority, body.RootElement.GetProperty("q").GetString());
    }

    [Fact]
    public void LinkAlone_IsLeftOutWithoutALink()
    {
        using var body = Fill("""{"l":"{link}","t":"{title}"}""", "1");

        Assert.Equal(["t"], body.RootElement.EnumerateObject().Select(member => member.Name));
    }

    [Fact]
    public void ActsAndPicture_StandInTheirPlacesAndAreLeftOutWithoutThem()
    {
        const string Template = """{"buttons":[{"kind":"open","to":"{snooze}"},{"kind":"open","to":"{on-it}"}],"all":"{acts}","chart":"{picture}","t":"{title}"}""";
        var full = Notice with
        {
            Acts = ValueList.Of(new NoticeAct("on-it", "On it", new Uri("https://cellar.example/act/a")), new NoticeAct("snooze", "Later", new Uri("https://cellar.example/act/b"))),
            Picture = new NoticePicture(new byte[] { 1, 2, 3 }, "A curve"),
        };
        using var body = JsonDocument.Parse(RelayTemplate.Parse(Template).Fill(full, "1"));
        Assert.Equal(["https://cellar.example/act/b", "https://cellar.example/act/a"], body.RootElement.GetProperty("buttons").EnumerateArray().Select(one => one.GetProperty("to").GetString()));
        Assert.Equal(["on-it", "snooze"], body.RootElement.GetProperty("all").EnumerateArray().Select(one => one.GetProperty("act").GetString()));
        Assert.Equal("AQID", body.RootElement.GetProperty("chart").GetString());

        using var bare = Fill(Template, "1");
        Assert.Equal(0, bare.RootElement.GetProperty("buttons").GetArrayLength());
        Assert.Equal(["buttons", "t"], bare.RootElement.EnumerateObject().Select(member => member.Name));
    }

    [Theory]
    [InlineData("[]", "object")]
    [InlineData("{\"a\":", "line 1")]
    [InlineData("{\"a\":\"{headline}\"}", "{headline}")]
    public void FaultyTemplate_IsNamed(string template, string named)
    {
        Assert.Contains(named, RelayTemplate.FaultOf(template), StringComparison.Ordinal);
        Assert.Throws<FormatException>(() => RelayTemplate.Parse(template));
    }

    [Fact]
    public void Default_HasEveryPlaceholder()
    {
        Assert.Null(RelayTemplate.FaultOf(RelayTemplate.Default));
        Assert.All(["{title}", "{text}", "{priority}", "{link}", "{key}", "{acts}", "{picture}"], placeholder => Assert.Contains(placeholder, RelayTemplate.Default, StringComparison.Ordinal));
    }

    [Fact]
    public void FaultySetting_IsNamedWithWhatIsRight()
    {
        var good = new RelaySettings { Url = new Uri("https://relay.example/topic") };

        Assert.Null(good.Fault());
        Assert.Contains("http://", (good with { Url = new Uri("/topic", UriKind.Relative) }).Fault(), StringComparison.Ordinal);
        Assert.Contains("four", (good with { Priorities = ValueList.Of<string>("1") }).Fault(), StringComparison.Ordinal);
        Assert.Contains("1 to 60", (good with { AnswerWithin = TimeSpan.FromHours(1) }).Fault(), StringComparison.Ordinal);
    }

    private static JsonDocument Fill(string template, string priority) =>
        JsonDocument.Parse(Encoding.UTF8.GetString(RelayTemplate.Parse(template).Fill(Notice, priority)));
}
