using System.Text.Json;
using System.Text.Json.Serialization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Writes a <see cref="ValueList{T}"/> as a JSON array and reads it back.</summary>
public sealed class ValueListConverter : JsonConverterFactory
{
    /// <inheritdoc/>
    public override bool CanConvert(Type typeToConvert) =>
        typeToConvert is { IsGenericType: true } && typeToConvert.GetGenericTypeDefinition() == typeof(ValueList<>);

    /// <inheritdoc/>
    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Elements<>).MakeGenericType(typeToConvert.GetGenericArguments()))!;

    private sealed class Elements<T> : JsonConverter<ValueList<T>>
    {
        public override ValueList<T> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            new(JsonSerializer.Deserialize<T[]>(ref reader, options) ?? []);

        public override void Write(Utf8JsonWriter writer, ValueList<T> value, JsonSerializerOptions options)
        {
            writer.WriteStartArray();
            foreach (var element in value)
            {
                JsonSerializer.Serialize(writer, element, options);
            }

            writer.WriteEndArray();
        }
    }
}
