namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Ends a connection that announces a packet longer than the limit: the library would make room for the announced length at once,
/// and MQTT lets anyone announce 256 MB.
/// </summary>
internal sealed class PacketLimitStream(Stream inner, int longestPacket) : Stream
{
    private int _left;
    private int _length;
    private int _shift = -1;

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => false;

    /// <inheritdoc/>
    public override bool CanWrite => true;

    /// <inheritdoc/>
    public override long Length => throw new NotSupportedException();

    /// <inheritdoc/>
    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        var count = await inner.ReadAsync(buffer, cancellationToken);
        Follow(buffer.Span[..count]);
        return count;
    }

    /// <inheritdoc/>
    public override Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        ReadAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count)
    {
        var read = inner.Read(buffer, offset, count);
        Follow(buffer.AsSpan(offset, read));
        return read;
    }

    /// <inheritdoc/>
    public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default) => inner.WriteAsync(buffer, cancellationToken);

    /// <inheritdoc/>
    public override Task WriteAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        inner.WriteAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => inner.Write(buffer, offset, count);

    /// <inheritdoc/>
    public override void Flush() => inner.Flush();

    /// <inheritdoc/>
    public override Task FlushAsync(CancellationToken cancellationToken) => inner.FlushAsync(cancellationToken);

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            inner.Dispose();
        }

        base.Dispose(disposing);
    }

    // Fixed header (MQTT 5 section 2.1): a first byte, then the remaining length in up to four bytes of seven bits, lowest first.
    private void Follow(ReadOnlySpan<byte> bytes)
    {
        while (!bytes.IsEmpty)
        {
            if (_left > 0)
            {
                var passed = Math.Min(_left, bytes.Length);
                _left -= passed;
                bytes = bytes[passed..];
                continue;
            }

            if (_shift < 0)
            {
                _length = 0;
                _shift = 0;
            }
            else
            {
                _length |= (bytes[0] & 0x7F) << _shift;
                _shift += 7;
                if (_length > longestPacket || _shift > 28)
                {
                    throw new IOException($"A packet of more than {longestPacket} bytes was announced.");
                }

                if ((bytes[0] & 0x80) == 0)
                {
                    _left = _length;
                    _shift = -1;
                }
            }

            bytes = bytes[1..];
        }
    }
}
