using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using FermentWatch.Service.Access;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>A browser without a screen: keeps cookies, sends forms with their token, comes from an address of its own on loopback.</summary>
internal sealed partial class Visitor : IDisposable
{
    public const string Password = "ladle orchard quartz";

    private readonly SocketsHttpHandler _handler;

    public Visitor(Uri root, string from = "127.0.0.1")
    {
        _handler = new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            CookieContainer = Cookies,
            ConnectCallback = async (context, stop) =>
            {
                var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
                socket.Bind(new IPEndPoint(IPAddress.Parse(from), 0));
                await socket.ConnectAsync(context.DnsEndPoint, stop);
                return new NetworkStream(socket, ownsSocket: true);
            },
        };
        Client = new HttpClient(_handler) { BaseAddress = root };
        Client.DefaultRequestHeaders.UserAgent.Add(new ProductInfoHeaderValue("visitor", "1"));
    }

    public HttpClient Client { get; }

    public CookieContainer Cookies { get; } = new();

    public Task<HttpResponseMessage> GetAsync(string path) => Client.GetAsync(path, TestContext.Current.CancellationToken);

    /// <summary>Sends a form of a page with the token that the page gives.</summary>
    public async Task<HttpResponseMessage> SendAsync(string page, string action, params (string Name, string Value)[] fields)
    {
        var html = await Client.GetStringAsync(page, TestContext.Current.CancellationToken);
        var token = WebUtility.HtmlDecode(Token().Match(html).Groups[1].Value);
        using var form = new FormUrlEncodedContent([.. fields.Select(field => KeyValuePair.Create(field.Name, field.Value)), KeyValuePair.Create("token", token)]);
        return await Client.PostAsync(action, form, TestContext.Current.CancellationToken);
    }

    /// <summary>Sets the first password of a service, and is signed in.</summary>
    public static async Task<Visitor> FirstMakerAsync(RunningService service, string name = "Ada", string path = "")
    {
        var visitor = new Visitor(new Uri(service.Page, path));
        var code = service.Services.GetRequiredService<SetUpCode>().Text;
        using var answer = await visitor.SendAsync("setup", "setup", ("code", code), ("name", name), ("password", Password));
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return visitor;
    }

    /// <summary>Invites somebody and follows the link as them.</summary>
    public async Task<Visitor> InviteAsync(RunningService service, string name, string role)
    {
        using var answer = await SendAsync("people", "people", ("do", "invite"), ("name", name), ("role", role));
        var link = new Uri(Made(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)));
        var invited = new Visitor(service.Page);
        using var accepted = await invited.SendAsync(link.ToString(), link.ToString(), ("password", Password));
        Assert.Equal(HttpStatusCode.Redirect, accepted.StatusCode);
        return invited;
    }

    /// <summary>The link or key that a page shows once.</summary>
    public static string Made(string html) => MadeText().Match(html) is { Success: true } match ? match.Groups[1].Value : throw new InvalidOperationException(html);

    public void Dispose()
    {
        Client.Dispose();
        _handler.Dispose();
    }

    [GeneratedRegex("name=\"token\" value=\"([^\"]+)\"")]
    private static partial Regex Token();

    [GeneratedRegex("<pre id=\"made\">([^<]+)</pre>")]
    private static partial Regex MadeText();
}
