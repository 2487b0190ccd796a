namespace Leadwright.Documents.Layout;

/// <summary>Puts slices on pages.</summary>
internal sealed class PageFlow
{
    private readonly List<(int Page, double Y, Slice Slice)> _placed = [];
    private readonly double _top, _bottom;
    private double _y;
    private int _page;

    /// <summary>Begins with an empty page.</summary>
    /// <param name="top">Where a page's text begins, points from the top.</param>
    /// <param name="bottom">Where it ends.</param>
    public PageFlow(double top, double bottom) => (_top, _bottom, _y) = (top, bottom, top);

    public int PageCount => _page + 1;

    /// <summary>What is where, in the order of reading.</summary>
    public IReadOnlyList<(int Page, double Y, Slice Slice)> Placed => _placed;

    public void Place(IReadOnlyList<Slice> slices)
    {
        for (var index = 0; index < slices.Count;)
        {
            // What must stay together is placed together, unless no page could hold it.
            var end = index;
            while (end < slices.Count - 1 && slices[end].KeepsWithNext) end++;
            var height = 0.0;
            for (var at = index; at <= end; at++) height += slices[at].Height + (at == index ? 0 : slices[at].SpaceBefore);
            var isFirst = _y <= _top + 0.01;
            if (slices[index].IsOptional && _y + slices[index].SpaceBefore + height > _bottom)
            {
                index = end + 1;
                continue;
            }

            if (slices[index].IsOnNewPage && !isFirst) Turn();
            else if (!isFirst && _y + slices[index].SpaceBefore + height > _bottom && height <= _bottom - _top) Turn();
            for (; index <= end; index++) Place(slices[index]);
        }
    }

    private void Place(Slice slice)
    {
        if (_y > _top + 0.01 && _y + slice.SpaceBefore + slice.Height > _bottom + 0.01) Turn();
        if (_y > _top + 0.01) _y += slice.SpaceBefore;
        else if (slice.Head is { } head) Put(head);
        Put(slice);
    }

    private void Put(Slice slice)
    {
        if (slice.Target is { } target) (target.Page, target.Y) = (_page, Math.Max(_y - 12, 0));
        _placed.Add((_page, _y, slice));
        _y += slice.Height;
    }

    private void Turn()
    {
        _page++;
        _y = _top;
    }
}
