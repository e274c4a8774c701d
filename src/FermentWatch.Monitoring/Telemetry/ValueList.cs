using System.Collections;
using System.Text.Json.Serialization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>An immutable list that is equal to another when the elements are: two views can be compared with ==.</summary>
/// <typeparam name="T">The element.</typeparam>
[JsonConverter(typeof(ValueListConverter))]
public sealed class ValueList<T> : IReadOnlyList<T>, IEquatable<ValueList<T>>
{
    private readonly T[] _items;

    /// <summary>Copies <paramref name="items"/>.</summary>
    public ValueList(IEnumerable<T> items) => _items = [.. items];

    /// <summary>Number of elements.</summary>
    public int Count => _items.Length;

    /// <summary>The element at <paramref name="index"/>, from 0.</summary>
    public T this[int index] => _items[index];

    /// <summary>The elements without copying.</summary>
    public ReadOnlySpan<T> AsSpan() => _items;

    /// <inheritdoc/>
    public IEnumerator<T> GetEnumerator() => ((IEnumerable<T>)_items).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <inheritdoc/>
    public bool Equals(ValueList<T>? other) => other is not null && _items.AsSpan().SequenceEqual(other._items);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ValueList<T>);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var item in _items)
        {
            hash.Add(item);
        }

        return hash.ToHashCode();
    }
}

/// <summary>Builds <see cref="ValueList{T}"/>.</summary>
public static class ValueList
{
    /// <summary>A list of the given elements.</summary>
    public static ValueList<T> Of<T>(params IEnumerable<T> items) => new(items);
}
