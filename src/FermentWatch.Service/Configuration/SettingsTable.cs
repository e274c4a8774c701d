using System.Text;

namespace FermentWatch.Service.Configuration;

/// <summary>Shows the whole catalogue, for the command <c>fermentwatch settings</c> and for deploy/settings.md.</summary>
public static class SettingsTable
{
    private const string Introduction =
        "Nothing needs to be set to start. Settings come from the file `fermentwatch.json` in the data directory, then from environment variables, "
        + "then from the command line; each wins over the one before. In the file, names nest: `Page:CellarName` is `{ \"Page\": { \"CellarName\": \"Attic cellar\" } }`. "
        + "As an environment variable the same is `FERMENTWATCH__Page__CellarName`. Capitals in names do not matter. `[]` marks a list; in an environment variable "
        + "its entries are counted from 0, as in `FERMENTWATCH__Topics__0__Filter`. An unknown name or a value that is not allowed stops the start with exit code 2 "
        + "and a message that says what would be right. Values of secrets are never printed.";

    /// <summary>As a Markdown document.</summary>
    public static string ToMarkdown()
    {
        var text = new StringBuilder("# Settings\n\nMade by `fermentwatch settings --markdown`; change the catalogue in the code, not this page.\n\n");
        text.Append(Introduction).Append('\n');
        foreach (var section in SettingCatalog.All.GroupBy(SectionOf))
        {
            text.Append("\n## ").Append(section.Key).Append("\n\n| setting | meaning | default | allowed | example |\n|---|---|---|---|---|\n");
            foreach (var setting in section)
            {
                text.Append("| `").Append(setting.Key).Append("` | ")
                    .Append(Cell(setting.Meaning)).Append(setting.Secret ? " Secret." : string.Empty).Append(" | ")
                    .Append(Cell(setting.DefaultText)).Append(" | ")
                    .Append(Cell(setting.Allowed)).Append(" | `")
                    .Append(Cell(setting.Example)).Append("` |\n");
            }
        }

        return text.ToString();
    }

    /// <summary>As plain text for a terminal.</summary>
    public static string ToPlainText()
    {
        var text = new StringBuilder(Introduction.Replace("`", string.Empty, StringComparison.Ordinal)).Append('\n');
        foreach (var setting in SettingCatalog.All)
        {
            text.Append('\n').Append(setting.Key).Append(setting.Secret ? " (secret)" : string.Empty).Append('\n')
                .Append("  ").Append(setting.Meaning).Append('\n')
                .Append("  default: ").Append(setting.DefaultText).Append('\n')
                .Append("  allowed: ").Append(setting.Allowed).Append('\n')
                .Append("  example: ").Append(setting.Example).Append('\n');
        }

        return text.ToString();
    }

    private static string SectionOf(Setting setting) => setting.Key.Split(':')[0].TrimEnd('[', ']');

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);
}
