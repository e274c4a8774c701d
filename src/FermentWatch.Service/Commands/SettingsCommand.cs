using System.CommandLine;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Commands;

/// <summary>Lists every setting with meaning, default and range.</summary>
internal static class SettingsCommand
{
    public static Command Build()
    {
        var markdown = new Option<bool>("--markdown") { Description = "As a Markdown table." };
        var command = new Command("settings", "List every setting with its meaning, default and allowed range.") { markdown };
        command.SetAction(parsed => Console.Out.Write(parsed.GetValue(markdown) ? SettingsTable.ToMarkdown() : SettingsTable.ToPlainText()));
        return command;
    }
}
