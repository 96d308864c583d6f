using System.Text;
using PostPipeline.Notebooks.Documents;

namespace PostPipeline.Notebooks.Live;

/// <summary>Stands in for the process's standard output and hands what a cell writes to that cell; everything else goes on as before.</summary>
internal sealed class CellConsole(TextWriter before, string name) : TextWriter
{
    public override Encoding Encoding => before.Encoding;

    /// <summary>Puts it in place, once a process.</summary>
    public static void Install()
    {
        if (Console.Out is not CellConsole)
        {
            Console.SetOut(new CellConsole(Console.Out, "stdout"));
            Console.SetError(new CellConsole(Console.Error, "stderr"));
        }
    }

    public override void Write(char value) => Write(value.ToString());

    public override void Write(string? value)
    {
        if (CellContext.Current is { } context)
        {
            context.Sink(new CellOutput.Text(name, value ?? string.Empty));
        }
        else
        {
            before.Write(value);
        }
    }

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void WriteLine(string? value) => Write(value + NewLine);

    public override void Flush() => before.Flush();
}
