namespace PostPipeline.Client.Digests;

/// <summary>Digests that manifests of copies are written with.</summary>
public enum DigestAlgorithm
{
    /// <summary>MD5 (RFC 1321).</summary>
    Md5 = 0,

    /// <summary>SHA-1 (FIPS 180-4).</summary>
    Sha1 = 1,

    /// <summary>SHA-256 (FIPS 180-4).</summary>
    Sha256 = 2,

    /// <summary>SHA-512 (FIPS 180-4).</summary>
    Sha512 = 3,

    /// <summary>xxHash, 32 bits, seed 0.</summary>
    Xxh32 = 4,

    /// <summary>xxHash, 64 bits, seed 0.</summary>
    Xxh64 = 5,

    /// <summary>xxHash's third generation, 64 bits, seed 0.</summary>
    Xxh3 = 6,

    /// <summary>xxHash's third generation, 128 bits, seed 0.</summary>
    Xxh128 = 7,

    /// <summary>The identifier of SMPTE ST 2114: SHA-512 in base 58, 90 characters.</summary>
    C4 = 8,
}
