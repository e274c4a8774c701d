namespace FermentWatch.Service.Access;

/// <summary>Which passwords are taken.</summary>
/// <remarks>
/// <para>Length counts, and what is guessed first is refused; no rule on kinds of characters, and pasting is allowed.
/// <b>Source.</b> NIST SP 800-63B section 5.1.1.2 (memorized secret verifiers), whose least length of 8 is raised to 12 here.</para>
/// <para>The words are from memory and common practice, no list of anybody's: with digits and signs around them, letters written as digits,
/// and repetition, they stand for many thousand passwords.</para>
/// </remarks>
public static class PasswordRules
{
    /// <summary>Least number of characters.</summary>
    public const int Shortest = 12;

    /// <summary>Largest number of characters.</summary>
    public const int Longest = 200;

    private static readonly string[] Words =
    [
        "password", "passwort", "passphrase", "passw", "passcode", "letmein", "welcome", "iloveyou", "ilove", "you", "love", "admin", "administrator", "root", "user",
        "login", "signin", "master", "secret", "changeme", "default", "guest", "test", "testing", "temp", "hello", "world", "access", "monkey", "dragon", "sunshine",
        "princess", "football", "baseball", "basketball", "soccer", "hockey", "superman", "batman", "shadow", "michael", "jordan", "jennifer", "charlie", "ashley",
        "flower", "computer", "internet", "server", "whatever", "trustno", "freedom", "starwars", "summer", "winter", "spring", "autumn", "monday", "friday", "january",
        "december", "mustang", "ginger", "cheese", "cookie", "pepper", "chocolate", "banana", "orange", "killer", "hunter", "ranger", "buster", "soccer", "tigger",
        "my", "the", "is", "a", "i", "new", "this", "that", "home", "house", "please", "enter", "here", "now", "me", "in", "let", "open", "sesame", "qwerty", "qwertz",
        "azerty", "asdf", "asdfgh", "zxcv", "zxcvbn", "qazwsx", "correct", "horse", "battery", "staple",
        "wine", "mead", "cider", "honey", "yeast", "must", "grape", "cellar", "carboy", "ferment", "fermentation", "fermentwatch", "watch", "winemaker", "homebrew",
    ];

    private static readonly string[] Rows =
    [
        "abcdefghijklmnopqrstuvwxyz", "01234567890123456789", "qwertyuiopasdfghjklzxcvbnm", "qwertzuiopasdfghjklyxcvbnm", "azertyuiopqsdfghjklmwxcvbn",
        "1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik9ol0p", "1q2w3e4r5t6z7u8i9o0p", "1q2w3e4r5t6y7u8i9o0p", "qwertyuiop1234567890", "asdfghjkl1234567890", "zxcvbnm1234567890",
    ];

    /// <summary>Key of the sentence that says what is wrong, in <c>Texts/Access.resx</c>; null for a password that is taken.</summary>
    /// <param name="password">As typed.</param>
    /// <param name="userName">Whose it shall be.</param>
    public static string? Fault(string password, string userName)
    {
        ArgumentNullException.ThrowIfNull(password);
        ArgumentNullException.ThrowIfNull(userName);
        return password.Length < Shortest ? "password-short"
            : password.Length > Longest ? "password-long"
            : userName.Trim().Length > 2 && password.Contains(userName.Trim(), StringComparison.OrdinalIgnoreCase) ? "password-name"
            : IsCommon(password) ? "password-common"
            : null;
    }

    private static bool IsCommon(string password)
    {
        var lower = password.ToLowerInvariant();
        // Signs that stand for letters, and those that only separate.
        var plain = string.Concat(lower.Replace('@', 'a').Replace('$', 's').Where(char.IsLetterOrDigit));
        return IsRepeated(lower)
            || plain.Length < 4
            || Rows.Any(row => IsOnRow(plain, row) || IsOnRow(plain, string.Concat(row.Reverse())))
            || IsOfWords(plain);
    }

    /// <summary>One piece of up to six characters over and over.</summary>
    private static bool IsRepeated(string text) => Enumerable.Range(1, 6).Any(length => text.Length > length
        && Enumerable.Range(length, text.Length - length).All(at => text[at] == text[at - length]));

    private static bool IsOnRow(string text, string row) => (row + row).Contains(text, StringComparison.Ordinal);

    /// <summary>Common words alone, with digits before, between and behind.</summary>
    private static bool IsOfWords(string text)
    {
        var reached = new bool[text.Length + 1];
        reached[0] = true;
        for (var at = 0; at < text.Length; at++)
        {
            if (!reached[at])
            {
                continue;
            }

            if (char.IsAsciiDigit(text[at]))
            {
                reached[at + 1] = true;
            }

            foreach (var word in Words.Where(word => Stands(word, text, at)))
            {
                reached[at + word.Length] = true;
            }
        }

        return reached[^1];
    }

    /// <summary>Whether a word stands at a place, some of its letters perhaps written as digits.</summary>
    private static bool Stands(string word, string text, int at) => word.Length <= text.Length - at
        && Enumerable.Range(0, word.Length).All(letter => text[at + letter] == word[letter] || LetterOf(text[at + letter]) == word[letter]);

    private static char LetterOf(char digit) => digit switch
    {
        '0' => 'o',
        '1' => 'i',
        '3' => 'e',
        '4' => 'a',
        '5' => 's',
        '7' => 't',
        _ => digit,
    };
}
