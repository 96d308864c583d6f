using PostPipeline.Client.Digests;
using PostPipeline.Testing;
using Xunit;

namespace PostPipeline.Services.Tests.Footage;

public sealed class ContentDigestTests
{
    private const long OneGibibyte = 1L << 30;

    public static TheoryData<string, string, string> Vectors
    {
        get
        {
            TheoryData<string, string, string> rows = [];
            // A gibibyte of zeros takes seconds a row: the long tier.
            bool all = Environment.GetEnvironmentVariable("POSTPIPELINE_LONG") == "1";
            foreach (CsvTable.Row row in CsvTable.Read(Outside.Table("storage/hash_test_vectors.csv")).Rows.Where(r => all || !r["input"].StartsWith("1 GiB", StringComparison.Ordinal)))
            {
                rows.Add(row["algorithm"], row["input"], row["digest"]);
            }

            return rows;
        }
    }

    // storage/hash_test_vectors.csv: RFC 1321, FIPS 180-4, xxhsum 0.8.1, SMPTE ST 2114:2017; a source in each row.
    [Theory]
    [MemberData(nameof(Vectors))]
    public async Task OfAsync_Vector_IsEqual(string algorithm, string input, string digest)
    {
        DigestAlgorithm which = algorithm switch
        {
            "xxh3_64" => DigestAlgorithm.Xxh3,
            _ when algorithm.StartsWith("c4id", StringComparison.Ordinal) => DigestAlgorithm.C4,
            _ => Enum.Parse<DigestAlgorithm>(algorithm, ignoreCase: true),
        };
        using Stream content = input.StartsWith("1 GiB", StringComparison.Ordinal) ? new Zeros(OneGibibyte) : new MemoryStream(System.Text.Encoding.ASCII.GetBytes(input));
        Assert.Equal(digest, await ContentDigest.OfAsync(content, which));
    }

    [Fact]
    public async Task OfAsync_AnySplitOfReads_IsTheSame()
    {
        byte[] bytes = [.. Enumerable.Range(0, 3_000_000).Select(i => (byte)(i % 251))];
        foreach (DigestAlgorithm algorithm in Enum.GetValues<DigestAlgorithm>())
        {
            string whole = await ContentDigest.OfAsync(new MemoryStream(bytes), algorithm);
            Assert.Equal(whole, await ContentDigest.OfAsync(new Trickle(bytes), algorithm));
        }
    }

    private sealed class Zeros(long length) : Stream
    {
        private long left = length;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position
        {
            get => throw new NotSupportedException();
            set => throw new NotSupportedException();
        }

        public override int Read(byte[] buffer, int offset, int count)
        {
            int some = (int)Math.Min(left, count);
            Array.Clear(buffer, offset, some);
            left -= some;
            return some;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }

    private sealed class Trickle(byte[] bytes) : MemoryStream(bytes)
    {
        public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) =>
            base.ReadAsync(buffer[..Math.Min(buffer.Length, 70_001)], cancellationToken);
    }
}
