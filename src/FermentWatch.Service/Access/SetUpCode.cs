namespace FermentWatch.Service.Access;

/// <summary>The one-time code with which the first person sets a name and a password. Printed on the console, a new one at every start.</summary>
public sealed class SetUpCode
{
    /// <summary>How long it counts.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromMinutes(30);

    private readonly TimeProvider _clock;
    private readonly DateTimeOffset _until;

    /// <summary>Makes a code.</summary>
    public SetUpCode(TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(clock);
        _clock = clock;
        _until = clock.GetUtcNow() + Lifetime;
        Text = Secrets.NewCode();
    }

    /// <summary>The code as printed.</summary>
    public string Text { get; }

    /// <summary>Whether it still counts.</summary>
    public bool Counts => _clock.GetUtcNow() < _until;

    /// <summary>Whether what was typed is the code; capitals, spaces and the hyphen do not matter.</summary>
    public bool Fits(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        return Secrets.AreSame(Plain(typed), Plain(Text)) & Counts;
    }

    private static string Plain(string code) => string.Concat(code.Where(char.IsLetterOrDigit)).ToUpperInvariant();
}
