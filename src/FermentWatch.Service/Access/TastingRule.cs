using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Access;

/// <summary>What somebody may write into a journal: a maker everything; a taster tasting notes, and to correct and take back their own; a viewer nothing.</summary>
internal static class TastingRule
{
    /// <summary>Whether the sender may write an entry of this kind.</summary>
    public static bool MayWrite(HttpContext? context, JournalKind kind) => RoleOf(context) switch
    {
        Role.Maker => true,
        Role.Taster => kind == JournalKind.Tasted,
        _ => false,
    };

    /// <summary>Whether the sender may correct this entry or take it back.</summary>
    public static bool MayChange(HttpContext? context, JournalEntry entry) =>
        RoleOf(context) == Role.Maker || (MayWrite(context, entry.Kind) && entry.By is { } by && by == context?.SignedIn()?.Person.Name);

    /// <summary>Whether the sender may write whatever they like.</summary>
    public static bool IsMaker(HttpContext? context) => RoleOf(context) == Role.Maker;

    // As long as nobody has a password, whoever sits at the machine may do everything; the gate lets in nobody else.
    private static Role RoleOf(HttpContext? context) => context?.SignedIn()?.Person.Role ?? Role.Maker;
}
