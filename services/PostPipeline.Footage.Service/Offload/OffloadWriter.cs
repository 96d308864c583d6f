using PostPipeline.Contracts.Footage.V1;
using PostPipeline.Footage.Offloads;
using DayMessage = PostPipeline.Contracts.Footage.V1.DayOffload;
using DayOffload = PostPipeline.Footage.Offloads.DayOffload;
using RotationMessage = PostPipeline.Contracts.Footage.V1.CardsInRotation;
using RunMessage = PostPipeline.Contracts.Footage.V1.CardRun;

namespace PostPipeline.Footage.Service.Offload;

/// <summary>Writes a day's offload.</summary>
internal static class OffloadWriter
{
    public static DayMessage Write(OffloadDay day, DayOffload offload, CopyChain chain)
    {
        DayMessage message = new()
        {
            Bytes = offload.Bytes,
            Cards = offload.Runs.Count,
            EndSeconds = Seconds(offload.EndMicroseconds),
            AfterWrapSeconds = offload.Runs.Count == 0 ? 0 : Seconds(offload.AfterWrapMicroseconds),
            StationLoad = double.IsFinite(offload.StationLoad) ? offload.StationLoad : double.MaxValue,
            NeverCatchesUp = offload.NeverCatchesUp,
            LongestWaitSeconds = Seconds(offload.LongestWaitMicroseconds),
            BindingLink = chain.BindingLink.Name,
            NextLink = chain.NextLink?.Name ?? string.Empty,
        };
        message.Rotation.AddRange(offload.Rotation.Select(r => new RotationMessage { Camera = r.Camera, MostAtOnce = r.MostAtOnce, WithSpares = r.WithSpares }));
        message.Runs.AddRange(offload.Runs.Select(r => new RunMessage
        {
            Camera = offload.Cameras[r.Card.Camera],
            Bytes = r.Card.Bytes,
            Files = r.Card.Files,
            PulledSeconds = Seconds(r.Card.PulledMicroseconds),
            StartedSeconds = Seconds(r.StartedMicroseconds),
            CopiedSeconds = Seconds(r.CopiedMicroseconds),
            DoneSeconds = Seconds(r.DoneMicroseconds),
            ReadySeconds = Seconds(r.ReadyMicroseconds),
            Station = r.Station + 1,
        }));
        EndOfDay end = new(
            offload.EndMicroseconds,
            day.HasCourierSeconds ? OffloadReader.Clock(day.CourierSeconds) : null,
            day.HasNextCallSeconds ? OffloadReader.Clock(day.NextCallSeconds) : null,
            day.HasRestHours ? day.RestHours : EndOfDay.EuropeanFloorHours);
        if (end.BeforeCourierMicroseconds is { } courier)
        {
            message.BeforeCourierSeconds = Seconds(courier);
        }

        if (end.RestToSpareMicroseconds is { } rest)
        {
            message.RestToSpareSeconds = Seconds(rest);
        }

        return message;
    }

    private static double Seconds(long microseconds) => microseconds / 1e6;
}
