namespace FermentWatch.System.Tests.Pages;

/// <summary>A way to look at a page that every page must have been looked at.</summary>
internal enum PageLook
{
    /// <summary>By axe-core.</summary>
    Axe,

    /// <summary>Walked through by keyboard.</summary>
    Keyboard,

    /// <summary>A screenshot.</summary>
    Picture,
}

/// <summary>Which pages were looked at in which way.</summary>
internal sealed class PageLooks
{
    private readonly HashSet<(PageLook Look, string Route)> _seen = [];

    public void Note(PageLook look, string route) => _seen.Add((look, route));

    /// <summary>Every page that lacks a look, with the look.</summary>
    public IReadOnlyList<string> Missing(IReadOnlySet<string> routes) =>
        [.. routes.SelectMany(route => Enum.GetValues<PageLook>(), (route, look) => (look, route)).Where(pair => !_seen.Contains(pair)).Select(pair => $"{pair.route} has no {pair.look}").Order(StringComparer.Ordinal)];
}
