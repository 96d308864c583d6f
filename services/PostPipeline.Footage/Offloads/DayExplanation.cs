using PostPipeline.Quantities;

namespace PostPipeline.Footage.Offloads;

/// <summary>The tree behind a day's offload: its end ← the last card's way; station load; cards in rotation; the time of a full card.</summary>
public static class DayExplanation
{
    private const double Microseconds = 1e6;

    /// <summary>Explains a day.</summary>
    /// <param name="means">The stations.</param>
    /// <param name="day">The answer.</param>
    /// <param name="cardBytes">Bytes of a full card.</param>
    /// <param name="files">Files on it.</param>
    public static Derivation Of(OffloadMeans means, DayOffload day, long cardBytes, long files)
    {
        Derivation card = OffloadExplanation.Of(means, cardBytes, files);
        List<Derivation> inputs = [];
        CardRun? last = day.Runs.Count == 0 ? null : day.Runs.MaxBy(r => r.DoneMicroseconds);
        if (last is { } run)
        {
            inputs.Add(Way(run, day.Cameras[run.Card.Camera], means));
        }

        inputs.Add(Load(means, day));
        inputs.AddRange(day.Rotation.Select(r => Rotation(r, means.SpareCards, first: r.Camera == day.Rotation[0].Camera)));
        inputs.Add(card);
        bool waited = last?.WaitMicroseconds > 0;
        return new()
        {
            Name = "last card done, after midnight",
            Formula = "the latest of all cards, each: pulled + carried + waited + copied and checked + looked at",
            Substituted = $"{day.Runs.Count} cards; wrap at {Seconds(day.WrapMicroseconds)} s",
            Value = Seconds(day.EndMicroseconds),
            Unit = "s",
            Source = "simulation card by card, first come first served",
            BindingLimit = day.NeverCatchesUp ? "station load" : waited ? "stations" : card.BindingLimit,
            NextLimit = day.NeverCatchesUp || waited ? card.BindingLimit : card.NextLimit,
            Inputs = inputs,
        };
    }

    private static Derivation Way(CardRun run, string camera, OffloadMeans means)
    {
        (string Name, long Microseconds)[] parts =
        [
            ("pulled from the camera, after midnight", run.Card.PulledMicroseconds), ("carried", run.ArrivedMicroseconds - run.Card.PulledMicroseconds), ("waited for a station", run.WaitMicroseconds),
            ("copied", run.CopiedMicroseconds - run.StartedMicroseconds), ($"checked: {OffloadExplanation.Words(means.Verify)}", run.VerifiedMicroseconds - run.CopiedMicroseconds), ("looked at", run.DoneMicroseconds - run.VerifiedMicroseconds),
        ];
        return new()
        {
            Name = $"last card, of {(camera.Length > 0 ? camera : "the camera")}, at station {run.Station + 1}",
            Formula = "sum of its way",
            Substituted = string.Join(" + ", parts.Select(p => Seconds(p.Microseconds))),
            Value = Seconds(run.DoneMicroseconds),
            Unit = "s",
            Inputs = [Derivation.Input("bytes on the card", run.Card.Bytes.ToString(), "B"), .. parts.Select(p => Derivation.Input(p.Name, Seconds(p.Microseconds), "s"))],
        };
    }

    private static Derivation Load(OffloadMeans means, DayOffload day) => new()
    {
        Name = "station load",
        Formula = "station time of all cards ÷ (stations × time from the first take to wrap); from 1 it never catches up",
        Substituted = $"{day.Runs.Count} cards on {means.Stations} stations",
        Value = double.IsFinite(day.StationLoad) ? day.StationLoad.ToString("0.####") : "beyond all bounds: nothing is recorded over time",
        Source = "common practice, no source",
    };

    // The margin is one margin however many cameras it is put on.
    private static Derivation Rotation(CardsInRotation rotation, int spares, bool first) => new()
    {
        Name = $"cards of {(rotation.Camera.Length > 0 ? rotation.Camera : "the camera")} in rotation",
        Formula = "most at once in camera, waiting, in transit, copied, checked or held + spares",
        Substituted = $"{rotation.MostAtOnce} + {spares}",
        Value = rotation.WithSpares.ToString(),
        Margin = spares > 0 && first ? "spare cards" : string.Empty,
    };

    private static string Seconds(long microseconds) => (microseconds / Microseconds).ToString("0.###");
}
