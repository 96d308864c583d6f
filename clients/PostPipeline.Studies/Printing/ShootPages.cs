using System.Globalization;
using PostPipeline.Studies.Briefs;
using PostPipeline.Studies.Outcomes;
using PostPipeline.Studies.Takes;

namespace PostPipeline.Studies.Printing;

/// <summary>Pages for the shoot: cameras, record times, the day's offload.</summary>
internal static class ShootPages
{
    // What stands on a page beside headings and notes, with room for a second line in some rows.
    private const int RowsOfASheet = 24;

    public static IReadOnlyList<Page> SetUp(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        return [.. study.Brief.Shoot.Cameras.Select((camera, c) => SetUp(study, camera, [.. study.Recordings.Where(r => r.Camera == c)]))];
    }

    public static IReadOnlyList<Page> RecordTimes(Comparison comparison)
    {
        Brief brief = comparison.Model.Study.Brief;
        Card[] cards = [.. brief.Shoot.Cameras.Select(c => c.Card).Distinct()];
        bool bursts = comparison.Model.Study.Recordings.Any(r => brief.Shoot.Cameras[r.Camera].Recordings[r.Recording].Mode is var mode
            && cards.Any(c => r.BytesPerFrame * mode.SensorRate.FramesPerSecond.ToDouble() * mode.PeakFactor > c.Write.BytesPerSecond.ToDouble() * c.Trust));
        return
        [
            new Page("Record time by mode and card", brief.Title)
                .Table(["mode", .. cards.Select(c => $"{c.Name}, {Numbers.Size(c.Size.Bytes)}")], comparison.Model.Study.Recordings
                    .Select(r => (brief.Shoot.Cameras[r.Camera].Recordings[r.Recording].Mode, r.BytesPerFrame)).DistinctBy(p => p.Mode.Name)
                    .Select(p =>
                    {
                        double rate = p.BytesPerFrame * p.Mode.SensorRate.FramesPerSecond.ToDouble();
                        return (string[])[$"{p.Mode.Name} ({p.Mode.SensorRate} fps, {Numbers.Rate(rate)} written)", .. cards.Select(c =>
                            $"{Numbers.Duration(c.Size.Bytes / rate)}{(rate * p.Mode.PeakFactor > c.Write.BytesPerSecond.ToDouble() * c.Trust ? ", in bursts only" : string.Empty)}")];
                    }))
                .Text("Clock time of pictures alone, nothing kept free for sound or reserve. Cards fill at the average rate, writes fail at the peak.")
                .Text(bursts ? $"In bursts only: the peak of the mode is more than the card can be trusted to take ({string.Join("; ", cards.Select(c => $"{c.Name}: {Numbers.Rate(c.Write.BytesPerSecond.ToDouble() * c.Trust)} written"))}). A take ends when the buffer is full; the time is what all bursts on a card add up to." : "Each mode stays below what the cards can be trusted to take."),
        ];
    }

    public static IReadOnlyList<Page> OffloadDay(Comparison comparison)
    {
        PreparedStudy study = comparison.Model.Study;
        Brief brief = study.Brief;
        int day = comparison.LatestOffloadDay;
        List<Page> pages = [];
        for (int unit = 0; unit < brief.Shoot.Units.Count; unit++)
        {
            if (double.IsNaN(study.Offload.EndSeconds[unit][day][0]))
            {
                continue;
            }

            string[][] rows = [.. Cards(study, brief.Shoot.Units[unit].Name, day), .. Enumerable.Range(0, 3).Select(_ => Blank())];
            foreach (string[][] sheet in rows.Chunk(RowsOfASheet))
            {
                pages.Add(new Page($"Offload sheet, shoot day {day + 1} ({brief.Shoot.Dates()[day].ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)}), unit {brief.Shoot.Units[unit].Name}", brief.Title)
                    .Text($"Last card done {Numbers.Clock(study.Offload.EndAt(unit, day, 1))} as planned. Verify level: {brief.Offload.Verify}. Copies: {brief.Offload.Destinations.Count}. Stations: {brief.Offload.Stations}.")
                    .Table(["camera", "card", "planned", "pulled", "copied", "verified", "clips and minutes agree", "initials"], sheet)
                    .Text("A named human decides whether a card is cleared; any unknown means: do not clear."));
            }
        }

        return pages;
    }

    // Only what can be set on the camera stands in the tables to tick; what the crew should know stands below.
    private static Page SetUp(PreparedStudy study, Camera camera, RecordingFacts[] recordings)
    {
        CaptureMode Mode(RecordingFacts r) => camera.Recordings[r.Recording].Mode;
        Page page = new Page($"Camera {camera.Letter}, unit {camera.Unit}", study.Brief.Title)
            .Table(["set", "to", "done"],
            [
                ["camera letter in clip names", camera.Letter, string.Empty],
                ["reel of the first day, then one up a day", TakeNames.Reel(camera.Letter, study.Brief.Shoot.Units.First(u => u.Name == camera.Unit).FirstDay - 1), string.Empty],
                ["timecode", camera.RecordRun ? "record run, from the reel's start" : "free run, time of day, jammed from the master clock", string.Empty],
                ["second, lighter file", camera.ProxyInCamera switch { true => "on", false => "off", null => "not decided: ask before the first day" }, string.Empty],
            ])
            .Heading("Modes")
            .Table(["mode", "raster", "sampling", "depth", "project rate", "sensor rate", "trigger", "done"], recordings.Select(r => new[]
            {
                Mode(r).Name, Mode(r).Raster.ToString(), Mode(r).Sampling, $"{Mode(r).Depth} bit", $"{Mode(r).ProjectRate} fps", $"{Mode(r).SensorRate} fps",
                r.Kind == "burst" ? Trigger(Mode(r).Trigger) : "–", string.Empty,
            }))
            .Heading("To know")
            .List(recordings.Select(r => $"{Mode(r).Name}: {Recorded(r)}; a card lasts {Numbers.Duration(r.CardSeconds)} of recording."));
        List<string> notes = [$"Card: {camera.Card.Name}, {Numbers.Size(camera.Card.Size.Bytes)}, rated {Numbers.Rate(camera.Card.Write.BytesPerSecond.ToDouble())} written.", "Clips are never renamed; reels are never reset."];
        if (recordings.Any(r => Mode(r).IsOffSpeed))
        {
            notes.Add(camera.OffSpeedLabels == "unknown"
                ? "How clips at another sensor rate are labelled is not known: find out before the first such take."
                : $"Labels of clips at another sensor rate: {camera.OffSpeedLabels}.");
        }

        return page.List(notes);
    }

    private static string Recorded(RecordingFacts r) => r.Kind switch
    {
        "burst" => $"bursts of {Numbers.Three(r.BurstSeconds)} s, ready again after {Numbers.Three(r.ReadyAgainSeconds)} s; power lost in a burst loses it",
        "over-ceiling" => $"more than the card can be trusted with, {Numbers.Rate(r.CeilingBytesPerSecond)} written, and no buffer is known: do not plan on it",
        _ => r.Sustained == true ? "records without end, tested" : "fits the card by its numbers; test with a full card first",
    };

    private static string Trigger(double place) => place switch
    {
        0 => "at the start of the window",
        1 => "at its end: it keeps what came before",
        _ => $"{Numbers.Percent(place)} of the window before it",
    };

    private static IEnumerable<string[]> Cards(PreparedStudy study, string unit, int day)
    {
        Brief brief = study.Brief;
        for (int c = 0; c < brief.Shoot.Cameras.Count; c++)
        {
            Camera camera = brief.Shoot.Cameras[c];
            double bytes = camera.Unit == unit ? study.Strands.Where(s => s.Camera == c).Sum(s => (double)s.Bytes[day]) : 0;
            double size = camera.Card.Size.Bytes;
            for (int n = 1; n <= (int)Math.Ceiling(bytes / size); n++)
            {
                yield return [camera.Letter, $"{n}", Numbers.Size(Math.Min(size, bytes - ((n - 1) * size))), "", "", "", "", ""];
            }
        }
    }

    private static string[] Blank() => ["", "", "", "", "", "", "", ""];
}
