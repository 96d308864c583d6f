using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace PostPipeline.Notebooks.Jupyter;

/// <summary>
/// Makes a cell end when it is interrupted: every loop looks at the cell's token before each round. Nothing can stop a thread
/// of this process from outside, so a cell that loops must do it itself. Lines stay where they are.
/// </summary>
internal static class Interruptible
{
    private static readonly StatementSyntax Look = SyntaxFactory.ParseStatement("global::PostPipeline.Notebooks.Output.Stop.ThrowIfCancellationRequested(); ");

    /// <summary>The code with a look at the token in every loop; unchanged where it is not C# that compiles as far as syntax goes.</summary>
    /// <param name="code">The code of a cell.</param>
    public static string Of(string code)
    {
        SyntaxTree tree = CSharpSyntaxTree.ParseText(code, new CSharpParseOptions(kind: SourceCodeKind.Script));
        return tree.GetDiagnostics().Any(d => d.Severity == DiagnosticSeverity.Error) ? code : new Rewriter().Visit(tree.GetRoot()).ToFullString();
    }

    private sealed class Rewriter : CSharpSyntaxRewriter
    {
        public override SyntaxNode? VisitWhileStatement(WhileStatementSyntax node) => ((WhileStatementSyntax)base.VisitWhileStatement(node)!).WithStatement(Looking(node.Statement));

        public override SyntaxNode? VisitDoStatement(DoStatementSyntax node) => ((DoStatementSyntax)base.VisitDoStatement(node)!).WithStatement(Looking(node.Statement));

        public override SyntaxNode? VisitForStatement(ForStatementSyntax node) => ((ForStatementSyntax)base.VisitForStatement(node)!).WithStatement(Looking(node.Statement));

        public override SyntaxNode? VisitForEachStatement(ForEachStatementSyntax node) => ((ForEachStatementSyntax)base.VisitForEachStatement(node)!).WithStatement(Looking(node.Statement));

        public override SyntaxNode? VisitForEachVariableStatement(ForEachVariableStatementSyntax node) => ((ForEachVariableStatementSyntax)base.VisitForEachVariableStatement(node)!).WithStatement(Looking(node.Statement));

        private BlockSyntax Looking(StatementSyntax body) => SyntaxFactory.Block(Look, (StatementSyntax)Visit(body));
    }
}
