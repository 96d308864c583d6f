using CsCheck;

namespace PostPipeline.Domain.Tests.Timecodes;

/// <summary>Real files with a few bytes changed, cut out, doubled or swapped.</summary>
internal static class Mutations
{
    /// <summary>Mutations of the given files.</summary>
    public static Gen<byte[]> Of(IReadOnlyList<byte[]> seeds) =>
        Gen.Select(Gen.Int[0, seeds.Count - 1], Gen.Select(Gen.Int[0, 5], Gen.Double.Unit, Gen.Double.Unit, Gen.Byte).Array[1, 6], (seed, edits) =>
        {
            List<byte> bytes = [.. seeds[seed]];
            foreach ((int kind, double where, double howMuch, byte value) in edits)
            {
                if (bytes.Count == 0)
                {
                    break;
                }

                int at = (int)(where * (bytes.Count - 1));
                int length = Math.Min(bytes.Count - at, 1 + (int)(howMuch * 30));
                switch (kind)
                {
                    case 0:
                        bytes[at] = value;
                        break;
                    case 1:
                        bytes.RemoveRange(at, length);
                        break;
                    case 2:
                        bytes.InsertRange(at, bytes.GetRange(at, length));
                        break;
                    case 3:
                        bytes.Insert(at, value);
                        break;
                    case 4:
                        bytes[at] = (byte)('0' + (value % 10));
                        break;
                    default:
                        bytes.RemoveRange(at, bytes.Count - at);
                        break;
                }
            }

            return bytes.ToArray();
        });
}
