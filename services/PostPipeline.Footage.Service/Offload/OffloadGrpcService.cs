using Grpc.Core;
using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Contracts.Types.V1;
using PostPipeline.Footage.Offloads;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Hosting.Validation;
using DayOffload = PostPipeline.Footage.Offloads.DayOffload;
using OffloadMeans = PostPipeline.Footage.Offloads.OffloadMeans;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>What happens between the camera and verified copies. Never says that a card is safe to clear.</summary>
public sealed class OffloadGrpcService : OffloadService.OffloadServiceBase
{
    /// <inheritdoc/>
    public override Task<SimulateDaysResponse> SimulateDays(SimulateDaysRequest request, ServerCallContext context)
    {
        Violations violations = new();
        violations.Count("days", request.Days.Count, 0, Batch.MaximumItems);
        OffloadMeans? means = OffloadReader.Means(request.Means, violations);
        violations.ThrowIfAny();
        CopyChain chain = new(means!);
        ItemProblems problems = new();
        DayResult[] results = [.. request.Days.Select(d => new DayResult { Label = d.Label })];
        foreach (int[] together in Together(request))
        {
            Simulate(request, means!, chain, together, results, problems, context.CancellationToken);
        }

        SimulateDaysResponse response = new();
        response.Results.AddRange(results);
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<CountCardsResponse> CountCards(CountCardsRequest request, ServerCallContext context)
    {
        CountCardsResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => CardLoopAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new CardCountResult { Label = i.Label, Error = e } : new CardCountResult { Label = i.Label, Count = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<ReviewReleaseResponse> ReviewRelease(ReviewReleaseRequest request, ServerCallContext context)
    {
        ReviewReleaseResponse response = new();
        response.Results.AddRange(EvidenceAnswers.Release(request.Items, request.Explain));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<PlanTapesResponse> PlanTapes(PlanTapesRequest request, ServerCallContext context)
    {
        PlanTapesResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => TapeAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new TapePlanResult { Label = i.Label, Error = e } : new TapePlanResult { Label = i.Label, Plan = v }));
        return Task.FromResult(response);
    }

    /// <inheritdoc/>
    public override Task<EstimateTransfersResponse> EstimateTransfers(EstimateTransfersRequest request, ServerCallContext context)
    {
        EstimateTransfersResponse response = new();
        response.Results.AddRange(Batch.Answers(request.Items, (item, problems) => TransferAnswers.Answer(item, problems, request.Explain), static (i, v, e) =>
            v is null ? new TransferResult { Label = i.Label, Error = e } : new TransferResult { Label = i.Label, Transfer = v }));
        return Task.FromResult(response);
    }

    // Days that are simulated in one run: a unit's consecutive days, or each day by itself.
    private static IEnumerable<int[]> Together(SimulateDaysRequest request)
    {
        IEnumerable<int> all = Enumerable.Range(0, request.Days.Count);
        return request.Consecutive
            ? all.GroupBy(i => request.Days[i].Unit).Select(g => g.OrderBy(i => request.Days[i].Day).ToArray())
            : all.Select(i => new[] { i });
    }

    private static void Simulate(
        SimulateDaysRequest request, OffloadMeans means, CopyChain chain, int[] together, DayResult[] results, ItemProblems problems, CancellationToken cancellationToken)
    {
        List<(int Index, ShootDay Day)> read = [];
        foreach (int index in together)
        {
            if (Batch.Answer(request.Days[index], problems, OffloadReader.Day, out ItemError? error) is { } day)
            {
                read.Add((index, day));
            }
            else
            {
                results[index].Error = error;
            }
        }

        if (read.Count == 0)
        {
            return;
        }

        // A unit's days stand or fall together: one that is left out would change the others.
        if (read.Count < together.Length)
        {
            Fail(read, results, new() { Field = "day", Description = "another day of this unit is refused, and days that follow one another are simulated together" });
            return;
        }

        IReadOnlyList<DayOffload>? days = Batch.Answer(
            read,
            problems,
            (r, _) => request.Consecutive
                ? OffloadPlan.Simulate(means, [.. r.Select(d => d.Day)], cancellationToken)
                : [OffloadPlan.Simulate(means, r[0].Day, cancellationToken)],
            out ItemError? failure);
        if (days is null)
        {
            Fail(read, results, failure!);
            return;
        }

        for (int i = 0; i < read.Count; i++)
        {
            OffloadDay asked = request.Days[read[i].Index];
            Contracts.Footage.V1.DayOffload answer = OffloadWriter.Write(asked, days[i], chain);
            if (request.Explain)
            {
                Contracts.Footage.V1.CameraDay? fullest = asked.Cameras.MaxBy(c => c.CardBytes);
                answer.Derivation = Wire.Of(DayExplanation.Of(means, days[i], fullest?.CardBytes ?? 0, fullest?.Takes.Sum(t => (long)t.Files) ?? 0));
            }

            results[read[i].Index].Offload = answer;
        }
    }

    private static void Fail(List<(int Index, ShootDay Day)> days, DayResult[] results, ItemError error)
    {
        foreach ((int index, _) in days)
        {
            results[index].Error = error.Clone();
        }
    }
}
