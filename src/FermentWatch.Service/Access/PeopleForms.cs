using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access.Pages;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Access;

/// <summary>People: invited, changed, disabled; their sign-ins ended.</summary>
internal static class PeopleForms
{
    private static readonly TimeSpan InvitationLifetime = TimeSpan.FromDays(7);

    // Who has a password waits for it: a link by which it is taken over should not lie about for long.
    private static readonly TimeSpan ResetLifetime = TimeSpan.FromDays(1);

    public static async Task<IResult> ChangeAsync(SentForm form, CancellationToken stop)
    {
        var store = form.Service<Store>();
        if (form["do"] == "invite")
        {
            return await InviteAsync(form, store, stop);
        }

        if (form["do"] == "end")
        {
            await store.EndSignInAsync(form["key"], stop);
            return FormHosting.Back(form, "people");
        }

        if (!long.TryParse(form["id"], NumberStyles.None, CultureInfo.InvariantCulture, out var id) || store.ReadPeople().SingleOrDefault(one => one.Id == id) is not { } person)
        {
            return FormHosting.Back(form, "people");
        }

        switch (form["do"])
        {
            case "renew":
                var code = Secrets.NewKey();
                await store.RenewInvitationAsync(person.Id, Secrets.Hash(code), Until(form, person.HasPassword ? ResetLifetime : InvitationLifetime), stop);
                return AccessForms.Again<PeoplePage>(form, [], person, LinkOf(form, code));
            case "role" when RoleOf(form["role"]) is { } role:
                return await ApplyAsync(form, person, role, person.IsDisabled, stop);
            case "disable" or "enable":
                return await ApplyAsync(form, person, person.Role, form["do"] == "disable", stop);
            default:
                return FormHosting.Back(form, "people");
        }
    }

    private static async Task<IResult> ApplyAsync(SentForm form, Person person, Role role, bool isDisabled, CancellationToken stop)
    {
        var done = await form.Service<Store>().ChangePersonAsync(person.Id, role, isDisabled, stop);
        return done
            ? FormHosting.Back(form, "people")
            : AccessForms.Again<PeoplePage>(form, new() { ["person-" + person.Id.ToString(CultureInfo.InvariantCulture)] = AccessText.Of("last-maker", person.Name) });
    }

    private static async Task<IResult> InviteAsync(SentForm form, Store store, CancellationToken stop)
    {
        var faults = new Dictionary<string, string>();
        AccessForms.CheckName(form["name"], faults);
        var role = RoleOf(form["role"]);
        if (role is null)
        {
            faults["role"] = AccessText.Of("role-fault", form["role"]);
        }

        var code = Secrets.NewKey();
        if (faults.Count == 0 && await store.InviteAsync(form["name"], role!.Value, Secrets.Hash(code), Until(form, InvitationLifetime), stop) is null)
        {
            faults["name"] = AccessText.Of("name-taken", form["name"]);
        }

        return faults.Count > 0 ? AccessForms.Again<PeoplePage>(form, faults) : AccessForms.Again<PeoplePage>(form, [], store.FindPerson(form["name"]), LinkOf(form, code));
    }

    private static Role? RoleOf(string word) => word switch
    {
        "maker" => Role.Maker,
        "taster" => Role.Taster,
        "viewer" => Role.Viewer,
        _ => null,
    };

    private static ReceivedAt Until(SentForm form, TimeSpan lifetime) => ReceivedAt.From(form.Service<TimeProvider>().GetUtcNow() + lifetime);

    private static string LinkOf(SentForm form, string code)
    {
        var request = form.Context.Request;
        var root = form.Service<PageSettings>().BaseUrl?.ToString() ?? $"{request.Scheme}://{request.Host}{request.PathBase}";
        return $"{root.TrimEnd('/')}/invitation/{code}";
    }
}
