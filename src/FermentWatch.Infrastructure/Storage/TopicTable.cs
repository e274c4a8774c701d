namespace FermentWatch.Infrastructure.Storage;

/// <summary>Numbers for topics, so that a message carries four bytes rather than its whole topic.</summary>
internal sealed class TopicTable(WriteConnection connection)
{
    /// <summary>Only mapped topics come here, so this is their number; the limit keeps a wide wildcard from growing it without end.</summary>
    private const int MostRemembered = 10_000;

    private readonly Dictionary<string, long> _numbers = new(StringComparer.Ordinal);

    /// <summary>The number of a topic, given at its first message.</summary>
    public long NumberOf(string topic)
    {
        if (_numbers.TryGetValue(topic, out var number))
        {
            return number;
        }

        number = connection.Statement("SELECT id FROM topic WHERE name = ?1").Number(topic)
            ?? connection.Statement("INSERT INTO topic (name, messages) VALUES (?1, 0) RETURNING id").Number(topic)
            ?? throw new InvalidOperationException("The topic table returned no number for a new row.");
        if (_numbers.Count >= MostRemembered)
        {
            _numbers.Clear();
        }

        _numbers[topic] = number;
        return number;
    }
}
