using PostPipeline.Benchmarks;
using PostPipeline.Benchmarks.Conform;
using PostPipeline.Benchmarks.Farms;
using PostPipeline.Benchmarks.Footage;
using PostPipeline.Benchmarks.Pages;
using PostPipeline.Benchmarks.RenderTimes;
using PostPipeline.Benchmarks.Slates;
using PostPipeline.Benchmarks.Studies;
using PostPipeline.Benchmarks.Timecodes;
using PostPipeline.Benchmarks.Transports;

// One line an area: the first argument names it, the rest is the area's own.
Dictionary<string, Func<string[], int>> areas = new(StringComparer.Ordinal)
{
    ["farm"] = FarmBenchmarks.Run,
    ["render-times"] = RenderTimeBenchmarks.Run,
    ["timecode"] = TimecodeBenchmarks.Run,
    ["conform"] = ConformBenchmarks.Run,
    ["footage"] = FootageBenchmarks.Run,
    ["studies"] = StudiesBenchmarks.Run,
    ["pages"] = PageBenchmarks.Run,
    ["slates"] = SlateBenchmarks.Run,
    ["transports"] = TransportBenchmarks.Run,
};

if (args is ["list"])
{
    Console.WriteLine(string.Join('\n', areas.Keys));
    return 0;
}

if (args.Length > 0 && areas.TryGetValue(args[0], out Func<string[], int>? area))
{
    Measure.PrintMachine();
    return area(args[1..]);
}

Console.Error.WriteLine($"usage: dotnet run -c Release --project tests/Benchmarks -- <{string.Join('|', areas.Keys)}>");
return 2;
