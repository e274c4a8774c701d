namespace FermentWatch.Oenology.Worksheets;

/// <summary>Leaves a worksheet's computation with the fault of one field; the worksheet turns it into an outcome.</summary>
[System.Diagnostics.CodeAnalysis.SuppressMessage("Design", "CA1032:Implement standard exception constructors", Justification = "It always carries a fault.")]
public sealed class InputFaultException : Exception
{
    internal InputFaultException(InputFault fault)
        : base(fault.Sentence) => Fault = fault;

    /// <summary>The fault.</summary>
    public InputFault Fault { get; }
}
