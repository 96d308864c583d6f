using Spectre.Console;

namespace PostPipeline.Cli.Frame;

/// <summary>Consoles that print tables.</summary>
internal static class Consoles
{
    private const int WidthOfAFile = 200;

    /// <summary>A console over a writer. A table that goes to a file or a pipe is not folded at eighty columns and has no colours.</summary>
    public static IAnsiConsole For(TextWriter writer)
    {
        bool terminal = ReferenceEquals(writer, Console.Out) && !Console.IsOutputRedirected;
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(writer),
            Ansi = terminal ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = terminal ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
        });
        if (!terminal)
        {
            console.Profile.Width = WidthOfAFile;
        }

        return console;
    }
}
