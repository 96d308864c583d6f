using System.CommandLine;
using PostPipeline.Cli.Commands.Conform;
using PostPipeline.Cli.Commands.Farms;
using PostPipeline.Cli.Commands.Footage;
using PostPipeline.Cli.Commands.RenderTimes;
using PostPipeline.Cli.Commands.Slates;
using PostPipeline.Cli.Commands.Studies;
using PostPipeline.Cli.Commands.Timecode;

namespace PostPipeline.Cli.Commands;

/// <summary>The verbs, one line each, in the order of the help.</summary>
internal static class Verbs
{
    /// <summary>Makes all verbs.</summary>
    public static IEnumerable<Command> All() =>
    [
        DemoCommand.Create(),
        CompareCommand.Create(),
        CheckCommand.Create(),
        SweepCommand.Create(),
        TippingCommand.Create(),
        SensitivityCommand.Create(),
        FindOutCommand.Create(),
        BuysCommand.Create(),
        ReforecastCommand.Create(),
        DiffCommand.Create(),
        PrintCommand.Create(),
        SlateCommand.Create(),
        RunCommand.Create(),
        PresentCommand.Create(),
        HandoutCommand.Create(),
        JupyterCommand.Create(),
        ServeCommand.Create(),
        AboutCommand.Create(),
        TimecodeCommand.Create(),
        ConformCommand.Create(),
        PullCommand.Create(),
        RehearseCommand.Create(),
        MediaCommand.Create(),
        FootageCommand.Create(),
        BurstCommand.Create(),
        OffloadCommand.Create(),
        StorageCommand.Create(),
        FarmCommand.Create(),
        SizeCommand.Create(),
        TonightCommand.Create(),
        TrainCommand.Create(),
        PredictCommand.Create(),
        BenchmarksCommand.Create(),
        MeasureCommand.Create(),
    ];
}
