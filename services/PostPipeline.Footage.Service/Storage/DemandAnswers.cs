using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Service.Shared;
using PostPipeline.Footage.Stores;
using PostPipeline.Quantities;
using SeatDemand = PostPipeline.Footage.Stores.SeatDemand;

namespace PostPipeline.Footage.Service.Storage;

/// <summary>Reads everything that uses an array and writes what the array must give.</summary>
internal static class DemandAnswers
{
    public static SumDemandResponse Answer(SumDemandRequest request)
    {
        ItemProblems problems = new();
        problems.InRange("seats", request.Seats.Count, 0, Batch.MaximumItems);
        problems.InRange("others", request.Others.Count, 0, Batch.MaximumItems);
        problems.InRange("measured_bytes_per_second", request.MeasuredBytesPerSecond, 0, 1e13);
        List<SeatDemand> seats = [];
        for (int i = 0; i < request.Seats.Count && i < Batch.MaximumItems; i++)
        {
            Contracts.Footage.V1.SeatDemand seat = request.Seats[i];
            bool good = problems.InRange($"seats[{i}].count", seat.Count, 0, 10_000) & problems.InRange($"seats[{i}].streams", seat.Streams, 1, 64);
            Rational stream = problems.Fraction($"seats[{i}].stream_bytes_per_second", seat.StreamBytesPerSecond, 0, 1_000_000_000_000, null);
            Rational part = problems.Fraction($"seats[{i}].simultaneity", seat.Simultaneity, 0, 1, Rational.One, openLow: true);
            if (good && problems.None)
            {
                seats.Add(SeatDemand.From(seat.Count, seat.Streams, DataRate.FromBytesPerSecond(stream), part));
            }
        }

        for (int i = 0; i < request.Others.Count && i < Batch.MaximumItems; i++)
        {
            problems.InRange($"others[{i}].bytes_per_second", request.Others[i].BytesPerSecond, 0, 1e13);
        }

        if (request.Node is not null)
        {
            problems.InRange("node.bytes_per_frame", request.Node.BytesPerFrame, 1, 1L << 50);
            problems.InRange("node.seconds_per_frame", request.Node.SecondsPerFrame, 1e-6, 1e6);
        }

        problems.ThrowIfAny();
        ArrayDemand demand = new()
        {
            Seats = seats,
            Others = [.. request.Others.Select(o => (o.Label, DataRate.FromBytesPerSecond((long)Math.Round(o.BytesPerSecond))))],
        };
        SumDemandResponse response = new()
        {
            DemandBytesPerSecond = demand.Demand.BytesPerSecond.ToDouble(),
            RatedBytesPerSecond = demand.Rated.BytesPerSecond.ToDouble(),
            Readers = demand.Readers,
            Derivation = request.Explain ? Wire.Of(DemandExplanation.Of(demand)) : null,
        };
        if (request.MeasuredBytesPerSecond > 0)
        {
            response.SpareBytesPerSecond = request.MeasuredBytesPerSecond - response.RatedBytesPerSecond;
            if (request.Node is not null)
            {
                double left = Math.Max(0, request.MeasuredBytesPerSecond - response.DemandBytesPerSecond);
                response.NodesFed = left / (request.Node.BytesPerFrame / request.Node.SecondsPerFrame);
            }
        }

        return response;
    }
}
