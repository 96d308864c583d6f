using PostPipeline.Contracts.Types.V1;
using Spectre.Console;

namespace PostPipeline.Cli.Commands.Footage;

/// <summary>The tree behind a number, for JSON and for print.</summary>
internal sealed record Reason(
    string Name, string Value, string Unit, string Formula, string Substituted, string Source, string Known, string Margin, string BindingLimit, string NextLimit, IReadOnlyList<Reason> Inputs)
{
    public static Reason? From(Derivation? d) => d is null ? null : new(
        d.Name, d.Value, d.Unit, d.Formula, d.Substituted, d.Source, d.Known == Contracts.Types.V1.Known.Unspecified ? string.Empty : d.Known.ToString().ToLowerInvariant(), d.Margin, d.BindingLimit, d.NextLimit,
        [.. d.Inputs.Select(i => From(i)!)]);

    public void Print(IAnsiConsole console)
    {
        Tree tree = new(Markup.Escape(Line()));
        foreach (Reason input in Inputs)
        {
            input.AddTo(tree);
        }

        console.Write(tree);
    }

    private void AddTo(IHasTreeNodes parent)
    {
        TreeNode node = parent.AddNode(Markup.Escape(Line()));
        foreach (Reason input in Inputs)
        {
            input.AddTo(node);
        }
    }

    private string Line()
    {
        string unit = Unit.Length > 0 ? $" {Unit}" : string.Empty;
        string how = Formula.Length > 0 ? $"  = {Formula}" : string.Empty;
        string numbers = Substituted.Length > 0 ? $"  = {Substituted}" : string.Empty;
        string margin = Margin.Length > 0 ? $"  (margin: {Margin})" : string.Empty;
        string limit = BindingLimit.Length > 0 ? $"  (set by: {BindingLimit}{(NextLimit.Length > 0 ? $"; then {NextLimit}" : string.Empty)})" : string.Empty;
        string known = Known.Length > 0 ? $"{Known}" : string.Empty;
        string source = Source.Length > 0 || known.Length > 0 ? $"  [{string.Join(": ", new[] { known, Source }.Where(t => t.Length > 0))}]" : string.Empty;
        return $"{Name}: {Value}{unit}{how}{numbers}{margin}{limit}{source}";
    }
}
