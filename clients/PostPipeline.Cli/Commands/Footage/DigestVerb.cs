using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using PostPipeline.Cli.Frame;
using PostPipeline.Client.Digests;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary><c>offload digest</c>: digests of files, and how fast this machine made them.</summary>
internal static class DigestVerb
{
    private static readonly Argument<string[]> Files = new("files") { Description = "Files.", Arity = ArgumentArity.OneOrMore };
    private static readonly Option<string> Algorithm = new("--with") { Description = "md5, sha1, sha256, sha512, xxh32, xxh64, xxh3, xxh128 or c4.", DefaultValueFactory = _ => "xxh64" };

    private sealed record Row(string Name, long Bytes, string Algorithm, string Digest);

    public static Command Create()
    {
        Algorithm.AcceptOnlyFromAmong([.. Enum.GetNames<DigestAlgorithm>().Select(n => n.ToLowerInvariant())]);
        return new Command("digest", "Print digests of files, one thread, and the rate at which this machine read and hashed them.") { Files, Algorithm }.Runs(async session =>
        {
            string name = session.Line.GetValue(Algorithm)!;
            DigestAlgorithm algorithm = Enum.Parse<DigestAlgorithm>(name, ignoreCase: true);
            Stopwatch watch = Stopwatch.StartNew();
            List<Row> rows = [];
            foreach (string path in session.Line.GetValue(Files)!)
            {
                FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, 0, useAsync: true);
                await using (file.ConfigureAwait(false))
                {
                    rows.Add(new(Path.GetFileName(path), file.Length, name, await ContentDigest.OfAsync(file, algorithm, session.Cancellation).ConfigureAwait(false)));
                }
            }

            double rate = rows.Sum(r => r.Bytes) / Math.Max(1e-6, watch.Elapsed.TotalSeconds);
            session.Note(string.Create(CultureInfo.InvariantCulture, $"read and hashed at {rate / 1e6:0} MB/s; files just written may have come from the cache"));
            return session.Answer("postpipeline.offload.digest/1", rows, console => rows.ForEach(r => console.Profile.Out.Writer.WriteLine($"{r.Digest}  {r.Name}")));
        });
    }
}
