using Xunit;

namespace FermentWatch.System.Tests;

/// <summary>Tests that measure the memory or the speed of the whole process: while one runs, nothing else does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class MeasuredAlone
{
    public const string Name = "measured alone";
}
