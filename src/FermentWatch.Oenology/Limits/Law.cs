namespace FermentWatch.Oenology.Limits;

/// <summary>Whose rules for trade the limits follow. They are shown for orientation: local law counts.</summary>
public enum Law
{
    /// <summary>None chosen: the strictest of those known counts.</summary>
    Strictest = 0,

    /// <summary>The European Union.</summary>
    Eu = 1,

    /// <summary>The United States.</summary>
    Us = 2,

    /// <summary>The International Organization of Vine and Wine.</summary>
    Oiv = 3,
}
