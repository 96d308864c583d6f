using System.IO.Hashing;
using System.Numerics;
using System.Security.Cryptography;

namespace PostPipeline.Client.Digests;

/// <summary>
/// Digests of files, as the client reads them; services open no files. A digest that equals shows that two reads gave
/// the same bytes; it does not show that the first of them was right.
/// </summary>
public static class ContentDigest
{
    private const int BufferBytes = 1 << 20;
    private const string Base58 = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz";
    private const int C4Digits = 88;

    /// <summary>The digest of what is left of a stream, as it is written in manifests: lower-case hexadecimal, or the 90 characters of a C4 identifier.</summary>
    /// <param name="content">Read to its end; not closed.</param>
    /// <param name="algorithm">The algorithm.</param>
    /// <param name="cancellationToken">Stops between blocks of a mebibyte.</param>
    public static async Task<string> OfAsync(Stream content, DigestAlgorithm algorithm, CancellationToken cancellationToken = default)
    {
        byte[] buffer = GC.AllocateUninitializedArray<byte>(BufferBytes);
        if (NonCryptographic(algorithm) is { } fast)
        {
            for (int read; (read = await content.ReadAtLeastAsync(buffer, BufferBytes, throwOnEndOfStream: false, cancellationToken).ConfigureAwait(false)) > 0;)
            {
                fast.Append(buffer.AsSpan(0, read));
            }

            return Convert.ToHexStringLower(fast.GetCurrentHash());
        }

        using IncrementalHash hash = IncrementalHash.CreateHash(Name(algorithm));
        for (int read; (read = await content.ReadAtLeastAsync(buffer, BufferBytes, throwOnEndOfStream: false, cancellationToken).ConfigureAwait(false)) > 0;)
        {
            hash.AppendData(buffer.AsSpan(0, read));
        }

        byte[] digest = hash.GetCurrentHash();
        return algorithm == DigestAlgorithm.C4 ? C4(digest) : Convert.ToHexStringLower(digest);
    }

    /// <summary>The identifier of SMPTE ST 2114: <c>c4</c> and 88 digits in base 58, filled with the digit 1.</summary>
    private static string C4(byte[] sha512)
    {
        BigInteger value = new(sha512, isUnsigned: true, isBigEndian: true);
        Span<char> text = stackalloc char[C4Digits + 2];
        text[0] = 'c';
        text[1] = '4';
        for (int i = text.Length - 1; i >= 2; i--)
        {
            value = BigInteger.DivRem(value, 58, out BigInteger digit);
            text[i] = Base58[(int)digit];
        }

        return new(text);
    }

    private static NonCryptographicHashAlgorithm? NonCryptographic(DigestAlgorithm algorithm) => algorithm switch
    {
        DigestAlgorithm.Xxh32 => new XxHash32(),
        DigestAlgorithm.Xxh64 => new XxHash64(),
        DigestAlgorithm.Xxh3 => new XxHash3(),
        DigestAlgorithm.Xxh128 => new XxHash128(),
        _ => null,
    };

    private static HashAlgorithmName Name(DigestAlgorithm algorithm) => algorithm switch
    {
        DigestAlgorithm.Md5 => HashAlgorithmName.MD5,
        DigestAlgorithm.Sha1 => HashAlgorithmName.SHA1,
        DigestAlgorithm.Sha256 => HashAlgorithmName.SHA256,
        DigestAlgorithm.Sha512 or DigestAlgorithm.C4 => HashAlgorithmName.SHA512,
        _ => throw new ArgumentOutOfRangeException(nameof(algorithm), algorithm, "This algorithm is not known."),
    };
}
