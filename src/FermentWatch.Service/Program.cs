using System.CommandLine;
using FermentWatch.Service.Commands;

var options = new ServiceOptions();
var root = new RootCommand("Watches fermentations: readings in over MQTT, a curve with a forecast, alerts on the phone. Without a command it runs the service.");
options.AddTo(root);
RunCommand.AddTo(root, options);
root.Subcommands.Add(DemoCommand.Build());
root.Subcommands.Add(BacktestCommand.Build());
root.Subcommands.Add(BackupCommand.BuildBackup());
root.Subcommands.Add(BackupCommand.BuildRestore());
root.Subcommands.Add(CopyCommand.Build());
root.Subcommands.Add(DiagnosticsCommand.Build());
root.Subcommands.Add(ImportCommand.Build());
root.Subcommands.Add(ResetPasswordCommand.Build());
root.Subcommands.Add(SettingsCommand.Build());
root.Subcommands.Add(WorksheetCommand.Build());
// Longer than the host takes to acknowledge what is on disk and to say goodbye.
var invocation = new InvocationConfiguration { ProcessTerminationTimeout = TimeSpan.FromSeconds(10) };
return await root.Parse(args).InvokeAsync(invocation);
