using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>Reads the numbers of a form in the reader's units and with the reader's decimal mark.</summary>
/// <param name="reader">Whose units.</param>
/// <param name="was">What is stored under a field's name and stood in its box; null where nothing did.</param>
internal sealed class FieldNumbers(Reader reader, Func<string, double?>? was = null)
{
    /// <summary>The number in the field's stored unit. A box that was left as it was keeps what is stored, to the last digit.</summary>
    public FieldNumber Read(JournalField field, string text)
    {
        if (was?.Invoke(field.Name) is { } stored && text == reader.FieldText(stored, field.Unit, field.Digits))
        {
            return new FieldNumber(stored, null);
        }

        if (TypedNumber.TryRead(text, reader.Units.Mark, out var number, out var fault))
        {
            return new FieldNumber(reader.FieldStored(number, field.Unit), null);
        }

        if (fault == TypedFault.MaybeThousands && TypedNumber.TryRead(text, DecimalMark.Comma, out number, out _))
        {
            // '1,050' is a gravity: 1050 can be none. Where both could be, neither is taken.
            var (parted, whole) = (reader.FieldStored(number, field.Unit), reader.FieldStored(number * 1000, field.Unit));
            return parted >= field.Low && parted <= field.High && whole > field.High
                ? new FieldNumber(parted, null)
                : new FieldNumber(null, FieldFault.TwoReadings);
        }

        return new FieldNumber(null, FieldFault.NoNumber);
    }
}
