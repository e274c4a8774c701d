using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Access.Pages;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Access;

/// <summary>Set-up, signing in and out, the own password.</summary>
internal static class SignInForms
{
    public static async Task<IResult> SetUpAsync(SentForm form, CancellationToken stop)
    {
        if (form.Service<AccessBook>().IsLocked)
        {
            return FormHosting.Back(form, "sign-in");
        }

        var faults = new Dictionary<string, string>();
        var name = form["name"];
        AccessForms.CheckName(name, faults);
        var password = AccessForms.NewPassword(form, name, faults);
        // The code comes last: who mistypes a password does not use up tries.
        if (faults.Count == 0)
        {
            var code = form.Service<SetUpCode>();
            if (!form.Service<GuessLimit>().Admits(form.Context.Connection.RemoteIpAddress))
            {
                faults["code"] = AccessText.Of("sign-in-slow");
            }
            else if (!code.Fits(form["code"]))
            {
                faults["code"] = AccessText.Of(code.Counts ? "code-wrong" : "code-old");
            }
        }

        if (faults.Count > 0)
        {
            return AccessForms.Again<SetUpPage>(form, faults);
        }

        var store = form.Service<Store>();
        if (await store.AddFirstMakerAsync(name, SignIns.HashOf(password), stop) is null)
        {
            faults["name"] = AccessText.Of("name-taken", name);
            return AccessForms.Again<SetUpPage>(form, faults);
        }

        await form.Service<SignIns>().BeginAsync(form.Context, store.FindPerson(name)!);
        return FormHosting.Back(form, "");
    }

    public static async Task<IResult> SignInAsync(SentForm form, CancellationToken stop)
    {
        var fault = await form.Service<SignIns>().TryAsync(form.Context, form["name"], form.Fields["password"].ToString());
        if (fault is null)
        {
            return FormHosting.Back(form, AccessAnswers.LocalReturn(form["return"]));
        }

        if (fault == "sign-in-slow")
        {
            form.Context.Response.Headers.RetryAfter = "60";
        }

        var page = AccessForms.Again<SignInPage>(form, new() { ["password"] = AccessText.Of(fault) });
        page.StatusCode = fault == "sign-in-slow" ? StatusCodes.Status429TooManyRequests : StatusCodes.Status422UnprocessableEntity;
        return page;
    }

    public static async Task<IResult> SignOutAsync(SentForm form, CancellationToken stop)
    {
        await form.Service<SignIns>().EndAsync(form.Context);
        return FormHosting.Back(form, "sign-in");
    }

    public static async Task<IResult> AcceptAsync(SentForm form, CancellationToken stop)
    {
        var hash = Secrets.Hash(form.Context.Request.RouteValues["code"]?.ToString() ?? "");
        var store = form.Service<Store>();
        if (!form.Service<GuessLimit>().Admits(form.Context.Connection.RemoteIpAddress) || store.FindInvited(hash) is not { } person)
        {
            return AccessForms.Again<InvitationPage>(form, []);
        }

        var faults = new Dictionary<string, string>();
        var password = AccessForms.NewPassword(form, person.Name, faults);
        if (faults.Count > 0 || !await store.AcceptInvitationAsync(hash, SignIns.HashOf(password), stop))
        {
            return AccessForms.Again<InvitationPage>(form, faults, person);
        }

        await form.Service<SignIns>().BeginAsync(form.Context, person);
        return FormHosting.Back(form, "");
    }

    public static async Task<IResult> AccountAsync(SentForm form, CancellationToken stop)
    {
        var signed = form.Context.SignedIn()!;
        var store = form.Service<Store>();
        if (form["do"] == "end")
        {
            if (store.FindSignIn(form["key"])?.Person.Id == signed.Person.Id)
            {
                await store.EndSignInAsync(form["key"], stop);
            }

            return FormHosting.Back(form, "account");
        }

        var faults = new Dictionary<string, string>();
        var password = AccessForms.NewPassword(form, signed.Person.Name, faults);
        if (faults.Count == 0 && form.Service<SignIns>().Knows(form.Context, signed.Person, form.Fields["present"].ToString()) is not true and var known)
        {
            faults["present"] = AccessText.Of(known is null ? "sign-in-slow" : "present-wrong");
        }

        if (faults.Count > 0)
        {
            return AccessForms.Again<AccountPage>(form, faults);
        }

        await store.SetPasswordAsync(signed.Person.Id, SignIns.HashOf(password), signed.Key, stop);
        return FormHosting.Back(form, "account?done=password");
    }
}
