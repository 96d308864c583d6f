using PostPipeline.Hosting.Validation;
using PostPipeline.Timecodes.Inventories;
using PostPipeline.Timecodes.Manifests;
using PostPipeline.Timecodes.MediaChecks;
using Types = PostPipeline.Contracts.Types.V1;
using Wire = PostPipeline.Contracts.Timecodes.V1;

namespace PostPipeline.Timecodes.Service.Conforming;

/// <summary>One check of media: collects the files of a stream, compares, answers.</summary>
internal sealed class MediaCall
{
    private const int MostManifestBytes = 64 << 20;
    private const int MostFindings = 5_000;

    private readonly InventoryReader media;
    private readonly InventoryMapping planMapping;
    private readonly ByteCollector manifest = new("manifest", MostManifestBytes);
    private readonly List<FoundFile> files = [];
    private readonly MediaCheckOptions options;
    private InventoryReader? plan;

    public MediaCall(Wire.CheckMediaSettings settings)
    {
        Violations violations = new();
        FieldPath field = "settings";
        planMapping = MappingReader.Read(field["plan_mapping"], settings.PlanMapping, violations);
        InventoryMapping mediaMapping = MappingReader.Read(field["media_mapping"], settings.MediaMapping, violations);
        double smallest = settings.SmallestShareOfMedian == 0 ? 0.5 : settings.SmallestShareOfMedian;
        double largest = settings.LargestShareOfMedian == 0 ? 2 : settings.LargestShareOfMedian;
        violations.Require(field["smallest_share_of_median"], smallest is > 0 and < 1, $"is {smallest}; allowed is above 0 and below 1");
        violations.Require(field["largest_share_of_median"], largest is > 1 and < 1e9, $"is {largest}; allowed is above 1");
        violations.ThrowIfAny();
        media = new(new() { Mapping = mediaMapping });
        options = new()
        {
            SmallestShareOfMedian = smallest,
            LargestShareOfMedian = largest,
            MaximumFindings = MostFindings,
            ProxiesExpected = settings.ProxiesExpected switch { Types.Verdict.Pass => true, Types.Verdict.Fail => false, _ => null },
        };
    }

    public void Take(Wire.CheckMediaRequest request)
    {
        switch (request.PartCase)
        {
            case Wire.CheckMediaRequest.PartOneofCase.Plan:
                ByteCollector.CheckPiece("plan", request.Plan);
                plan ??= new(new() { Mapping = planMapping });
                plan.Append(request.Plan.Span);
                break;
            case Wire.CheckMediaRequest.PartOneofCase.Media:
                ByteCollector.CheckPiece("media", request.Media);
                media.Append(request.Media.Span);
                break;
            case Wire.CheckMediaRequest.PartOneofCase.Manifest:
                manifest.Take(request.Manifest);
                break;
            case Wire.CheckMediaRequest.PartOneofCase.Files:
                Take(request.Files);
                break;
            default:
                throw new InvalidRequestException([new("part", "is not a piece of a file; settings come once, first")], 1);
        }
    }

    public Wire.CheckMediaResponse Answer(CancellationToken cancellationToken)
    {
        ProblemList problems = new();
        InventoryReading there = media.Finish();
        problems.Add(Wire.ConformFile.Media, there.Problems);
        Inventory planned = Inventory.Empty;
        if (plan is not null)
        {
            InventoryReading reading = plan.Finish();
            problems.Add(Wire.ConformFile.Plan, reading.Problems);
            planned = reading.Inventory;
        }

        HashManifest? hashes = manifest.HasAny ? HashManifest.Read(manifest.Bytes.Span, cancellationToken) : null;
        problems.Add(Wire.ConformFile.Manifest, hashes?.Problems ?? []);
        Wire.CheckMediaResponse response = new();
        response.Problems.AddRange(problems.Listed.Take(ConformGrpcService.RowsPerMessage));
        if (problems.HasErrors)
        {
            return response;
        }

        MediaCheckResult result = MediaCheck.Of(planned, there.Inventory, options);
        response.PlannedClips = result.PlannedClips;
        response.FoundClips = result.FoundClips;
        response.AsPlanned = result.AsPlanned;
        response.FindingsLeftOff = result.FindingsLeftOff;
        response.Findings.AddRange(result.Findings.Select(finding => new Wire.MediaFinding
        {
            Name = ConformMapping.Kebab(finding.Kind.ToString()),
            Clip = finding.Name,
            Expected = finding.Expected,
            Found = finding.Found,
            Description = finding.Sentence,
        }));
        response.Manifest = hashes is null ? null : Compare(hashes);
        return response;
    }

    private void Take(Wire.FoundFiles some)
    {
        Violations violations = new();
        violations.Count("files.files", some.Files.Count, 0, ConformGrpcService.RowsPerMessage);
        violations.Require("files", files.Count + some.Files.Count <= HashManifest.MaximumEntries, $"has more than {HashManifest.MaximumEntries} files, which is the limit");
        violations.ThrowIfAny();
        foreach (Wire.FoundFile file in some.Files)
        {
            files.Add(new(file.Path, file.SizeBytes, file.Hash));
        }
    }

    private Wire.ManifestComparison Compare(HashManifest hashes)
    {
        Completeness compared = hashes.CompareWith(files);
        return new()
        {
            Entries = hashes.Entries.Length,
            Missing = { compared.Missing.Take(ConformGrpcService.RowsPerMessage) },
            Extra = { compared.Extra.Take(ConformGrpcService.RowsPerMessage) },
            Empty = { compared.Empty.Take(ConformGrpcService.RowsPerMessage) },
            SizeDiffers = { compared.SizeDiffers.Take(ConformGrpcService.RowsPerMessage) },
            HashDiffers = { compared.HashDiffers.Take(ConformGrpcService.RowsPerMessage) },
            HashesCompared = compared.HashesCompared,
            Complete = compared.IsComplete,
        };
    }
}
