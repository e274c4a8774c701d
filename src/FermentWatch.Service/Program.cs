using System.CommandLine;
using FermentWatch.Service.Commands;

var options = new ServiceOptions();
var root = new RootCommand("Watches fermentations: readings in over MQTT, a curve with a forecast, alerts on the phone. Without a command it runs the service.");
options.AddTo(root);
RunCommand.AddTo(root, options);
root.Subcommands.Add(DemoCommand.Build());
root.Subcommands.Add(SettingsCommand.Build());
return await root.Parse(args).InvokeAsync();
