using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Dashboard.Forms;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FermentWatch.Service.Access;

/// <summary>What the forms about people, sign-ins and devices have in common.</summary>
internal static class AccessForms
{
    /// <summary>The page again with what was typed (never a password) and a sentence per field.</summary>
    public static RazorComponentResult<TPage> Again<TPage>(SentForm form, Dictionary<string, string> faults, Person? person = null, string? made = null)
        where TPage : IComponent
    {
        var typed = form.Fields.Keys.Where(key => !key.Contains("password", StringComparison.Ordinal) && key is not "present" and not FormHosting.TokenField)
            .ToDictionary(key => key, key => form[key]);
        var page = FormHosting.Again<TPage>(form, new Dictionary<string, object?> { ["View"] = ViewOf(form.Context) with { Typed = typed, Faults = faults, Person = person, Made = made } });
        page.StatusCode = made is null ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK;
        return page;
    }

    public static AccessView ViewOf(HttpContext context)
    {
        var services = context.RequestServices;
        var store = services.GetRequiredService<Store>();
        return new AccessView(services.GetRequiredService<AccessBook>(), store, context.SignedIn()) { Wishes = services.GetRequiredService<Personal.WishBook>() };
    }

    public static void CheckName(string name, Dictionary<string, string> faults)
    {
        if (name.Length is 0 or > 40 || name.Any(char.IsControl))
        {
            faults["name"] = AccessText.Of("name-fault", name);
        }
    }

    /// <summary>A new password, typed once: it can be shown while typing, and pasting is allowed.</summary>
    public static string NewPassword(SentForm form, string name, Dictionary<string, string> faults)
    {
        var password = form.Fields["password"].ToString();
        if (PasswordRules.Fault(password, name) is { } fault)
        {
            faults["password"] = AccessText.Of(fault, password.Length);
        }

        return password;
    }
}

/// <summary>What the pages about people, sign-ins and devices stand on.</summary>
/// <param name="Book">Who may do what.</param>
/// <param name="Store">People, sign-ins, devices.</param>
/// <param name="SignedIn">Who asks; null for nobody.</param>
public sealed record AccessView(AccessBook Book, Store Store, SignIn? SignedIn)
{
    /// <summary>What people want to be told.</summary>
    public required Personal.WishBook Wishes { get; init; }

    /// <summary>What was typed, by field.</summary>
    public IReadOnlyDictionary<string, string> Typed { get; init; } = new Dictionary<string, string>();

    /// <summary>What is wrong, by field.</summary>
    public IReadOnlyDictionary<string, string> Faults { get; init; } = new Dictionary<string, string>();

    /// <summary>Whose invitation it is.</summary>
    public Person? Person { get; init; }

    /// <summary>A link or key that was just made, shown this once.</summary>
    public string? Made { get; init; }

    /// <summary>Where to go after signing in, or what was done.</summary>
    public string Note { get; init; } = "";

    /// <summary>What was typed into a field.</summary>
    public string Was(string field) => Typed.GetValueOrDefault(field, "");

    /// <summary>What is wrong with a field; null when nothing.</summary>
    public string? Fault(string field) => Faults.GetValueOrDefault(field);
}
