using System.Diagnostics;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Waits for something to come true, looking often, with a deadline ten times what it should take.</summary>
internal static class Eventually
{
    public static readonly TimeSpan Deadline = TimeSpan.FromSeconds(60);

    public static Task TrueAsync(Func<bool> condition, string what, TimeSpan? deadline = null) =>
        TrueAsync(condition, () => what, deadline);

    public static async Task TrueAsync(Func<bool> condition, Func<string> what, TimeSpan? deadline = null)
    {
        var watch = Stopwatch.StartNew();
        while (!condition())
        {
            if (watch.Elapsed > (deadline ?? Deadline))
            {
                Assert.Fail($"Waited {watch.Elapsed.TotalSeconds:F0} s in vain: {what()}");
            }

            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
    }
}
