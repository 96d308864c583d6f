namespace PostPipeline.Slates.Planning;

/// <summary>What a shared resource is.</summary>
public enum SlateResourceKind
{
    /// <summary>Nodes of one class, in nodes.</summary>
    FarmClass,

    /// <summary>People of one skill, in people.</summary>
    People,

    /// <summary>Rooms, in rooms.</summary>
    Suite,

    /// <summary>Licences of one product, in licences.</summary>
    Licence,

    /// <summary>A storage tier, in terabytes or a part of one.</summary>
    Storage,

    /// <summary>A link, in terabytes a half-day or a part of one.</summary>
    Link,
}
