using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access.Pages;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Access;

/// <summary>Devices: added with a key, given a new one, removed.</summary>
internal static class DeviceForms
{
    // Topics of the service's own, on which no device may speak for another.
    private static readonly string[] OwnRoots = ["http", "fermentwatch"];

    public static async Task<IResult> ChangeAsync(SentForm form, CancellationToken stop)
    {
        var store = form.Service<Store>();
        if (form["do"] == "add")
        {
            return await AddAsync(form, store, stop);
        }

        if (form["do"] == "require")
        {
            await store.SetBrokerNeedsDeviceAsync(form["needed"] == "yes", stop);
        }
        else if (long.TryParse(form["id"], NumberStyles.None, CultureInfo.InvariantCulture, out var id))
        {
            if (form["do"] == "remove")
            {
                await store.RemoveDeviceAsync(id, stop);
            }
            else if (form["do"] == "renew")
            {
                var key = Secrets.NewKey();
                await store.RenewDeviceKeyAsync(id, Secrets.Hash(key), stop);
                form.Service<AccessBook>().Renew();
                return AccessForms.Again<DevicesPage>(form, [], made: key);
            }
        }

        form.Service<AccessBook>().Renew();
        return FormHosting.Back(form, "devices");
    }

    private static async Task<IResult> AddAsync(SentForm form, Store store, CancellationToken stop)
    {
        var faults = new Dictionary<string, string>();
        var name = form["name"];
        if (name.Length is 0 or > 40 || !name.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-'))
        {
            faults["name"] = AccessText.Of("device-name-fault", name);
        }

        var prefix = form["prefix"].Length == 0 ? name : form["prefix"];
        if (prefix.Length > 200 || prefix.Any(letter => char.IsControl(letter) || letter is '+' or '#') || prefix.Length == 0
            || prefix[0] is '$' or '/' || prefix[^1] == '/' || OwnRoots.Contains(prefix.Split('/')[0]))
        {
            faults[form["prefix"].Length == 0 ? "name" : "prefix"] = AccessText.Of("device-prefix-fault", prefix);
        }

        var key = Secrets.NewKey();
        if (faults.Count == 0 && !await store.AddDeviceAsync(name, Secrets.Hash(key), prefix, stop))
        {
            faults["name"] = AccessText.Of("name-taken", name);
        }

        if (faults.Count > 0)
        {
            return AccessForms.Again<DevicesPage>(form, faults);
        }

        form.Service<AccessBook>().Renew();
        return AccessForms.Again<DevicesPage>(form, [], made: key);
    }
}
