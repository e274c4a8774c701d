namespace FermentWatch.Infrastructure.Storage;

/// <summary>What the reader chose on the page, kept as named texts.</summary>
public sealed partial class Store
{
    /// <summary>All values whose name begins so, by name.</summary>
    /// <param name="prefix">Begin of the names, such as <c>preference-</c>.</param>
    public IReadOnlyDictionary<string, string> ReadProperties(string prefix) => _reads.Read<IReadOnlyDictionary<string, string>>(read => read
        .Statement("SELECT name, value FROM property WHERE substr(name, 1, length(?1)) = ?1")
        .List(row => (Name: row.GetString(0), Value: row.GetString(1)), prefix)
        .ToDictionary(row => row.Name, row => row.Value, StringComparer.Ordinal));

    /// <summary>Keeps values under their names, in one transaction.</summary>
    /// <param name="values">Values by name; null forgets the name.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task WritePropertiesAsync(IReadOnlyDictionary<string, string?> values, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(values);
        return WriteAsync(
            connection =>
            {
                foreach (var (name, value) in values)
                {
                    if (value is null)
                    {
                        connection.Statement("DELETE FROM property WHERE name = ?1").Run(name);
                    }
                    else
                    {
                        connection.Statement("INSERT INTO property (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value").Run(name, value);
                    }
                }

                return values.Count;
            },
            cancellationToken);
    }
}
