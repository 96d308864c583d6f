using PostPipeline.Slates.Files;
using PostPipeline.Studies.Briefs;

namespace PostPipeline.Studies.Tests.Slates.Files;

/// <summary>A small slate for tests; invented.</summary>
internal static class SlateSamples
{
    public const string TwoProjects = """
        slate: 1
        title: Two trees
        time_zone: Europe/Dublin
        currency: EUR
        starts: 2027-01-04
        weeks: 26
        projects:
          - name: Alder
            brief: alder.yaml
          - name: Birch
            brief: birch.yaml
            priority: 3
            due: 2027-04-09
            pipelines: [transcode, proxy]
            standing: second-hold
            expires: 2027-01-31
        farm:
          nodes:
            - {name: tall, count: 10, cores: 32, clock_ghz: 3.0, memory_gb: 128}
        storage:
          online: {capacity: 100 TB}
          nearline: {capacity: 200 TB}
        people:
          - name: Orla
            skills: [assistants]
            booked:
              - {for: leave, from: 2027-02-08, until: 2027-02-12}
          - {name: Piet, skills: [assistants, checkers]}
          - {name: Quill, skills: [graders]}
        maintenance:
          - {what: farm, from: 2027-02-06}
        extras:
          - {name: rented node, adds: tall, most: 4, week_price: 300, lead: 7 d}

        """;

    public const string Brief = """
        brief: 1
        title: A tree
        production: documentary
        currency: EUR
        time_zone: Europe/Dublin
        pipelines: [transcode, proxy]
        shoot:
          starts: 2027-01-11
          days: 5
          cameras: 1
          hours_per_day: 2 h
        modes:
          - {name: main, sustained: yes, trimmable: yes}
        proxies: {names_kept: yes}
        edit:
          finished: 50 min
          lock: 2027-03-01
          after_material: {low: 14 d, likely: 21 d, high: 30 d}
        deliver:
          due: 2027-04-02
          raster: 3840x2160

        """;

    public static Slate Read(string text, string brief = Brief) => SlateReader.Read(
        "slate.yaml", text, path => (path, () => path is "alder.yaml" or "birch.yaml" ? brief : throw new BriefException(path, "the file is not there")));
}
