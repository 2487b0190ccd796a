using System.Collections.Immutable;
using Leadwright.Client.Model.Charts;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Leadwright.Client.Controls;

/// <summary>Gives the rows of some columns over a span; the whole recording where no span is told.</summary>
/// <param name="names">The columns.</param>
/// <param name="from">Start, milliseconds as in a frame; null for the recording's.</param>
/// <param name="to">End; null for the recording's.</param>
/// <param name="width">The most rows that can be shown.</param>
/// <param name="cancellation">Ends it early.</param>
/// <returns>A <see cref="ColumnFrame"/> as bytes.</returns>
public delegate Task<byte[]> ColumnSource(ImmutableArray<string> names, double? from, double? to, int width, CancellationToken cancellation);

/// <summary>A chart of columns over time that can be zoomed. Charts of one group show one span and share the cursor.</summary>
public sealed partial class ColumnChart : ComponentBase, IAsyncDisposable
{
    private const int MostRows = 1400;
    private readonly string _id = $"chart-{Guid.NewGuid():N}";
    private ElementReference _place;
    private ElementReference _readout;
    private IJSObjectReference? _module;
    private IJSObjectReference? _chart;
    private DotNetObjectReference<ColumnChart>? _self;
    private CancellationTokenSource? _asking;
    private ImmutableArray<ChartColumn> _drawn = [];
    private (DateTime? From, DateTime? To) _drawnSpan;
    private ColumnFrame? _frame;
    private string _problem = "";
    private bool _isReady;
    private bool _isGone;

    /// <summary>What the chart shows.</summary>
    [Parameter, EditorRequired]
    public string Title { get; set; } = "";

    /// <summary>The columns, of one unit.</summary>
    [Parameter, EditorRequired]
    public ImmutableArray<ChartColumn> Columns { get; set; } = [];

    /// <summary>Where the values come from.</summary>
    [Parameter, EditorRequired]
    public ColumnSource Source { get; set; } = null!;

    /// <summary>Charts of the same group move together.</summary>
    [Parameter]
    public string Group { get; set; } = "survey";

    /// <summary>Start of the span that is shown first; null for the recording's.</summary>
    [Parameter]
    public DateTime? From { get; set; }

    /// <summary>Its end; null for the recording's.</summary>
    [Parameter]
    public DateTime? To { get; set; }

    /// <summary>Height in CSS pixels.</summary>
    [Parameter]
    public int Height { get; set; } = 260;

    /// <summary>True when zero is to be in sight.</summary>
    [Parameter]
    public bool HoldsZero { get; set; }

    /// <summary>Times to mark.</summary>
    [Parameter]
    public ImmutableArray<ChartMark> Marks { get; set; } = [];

    /// <summary>Bands behind the lines.</summary>
    [Parameter]
    public ImmutableArray<ChartBand> Bands { get; set; } = [];

    /// <summary>Told with the time under the cursor; nothing is told where nobody listens.</summary>
    [Parameter]
    public EventCallback<DateTime> Pointed { get; set; }

    /// <summary>True when the drawing may be saved as a file.</summary>
    [Parameter]
    public bool CanSave { get; set; } = true;

    /// <summary>More ways to save it.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }

    [Inject]
    private IJSRuntime Script { get; set; } = null!;

    /// <summary>Shows a span; called by the chart when it was zoomed or moved.</summary>
    /// <param name="from">Start, milliseconds as in a frame.</param>
    /// <param name="to">End.</param>
    [JSInvokable]
    public Task ShowAsync(double from, double to) => FillAsync(from, to);

    /// <summary>Tells the time under the cursor; called by the chart.</summary>
    /// <param name="time">Milliseconds as in a frame.</param>
    [JSInvokable]
    public Task PointAsync(double time) => Pointed.InvokeAsync(ColumnFrame.TimeOf(time));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _isGone = true;
        if (_asking is not null) await _asking.CancelAsync();
        _asking?.Dispose();
        try
        {
            await DropAsync();
            if (_module is not null) await _module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The page is gone, and the chart with it.
        }

        _self?.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender && _drawn.SequenceEqual(Columns) && _drawnSpan == (From, To)) return;
        (_drawn, _drawnSpan) = (Columns, (From, To));
        await DropAsync();
        if (_isGone) return;
        _self ??= DotNetObjectReference.Create(this);
        _module ??= await Script.InvokeAsync<IJSObjectReference>("import", "./chart/chart.js");
        _chart = await _module.InvokeAsync<IJSObjectReference>("create", _place, _readout, _self, Options());
        await FillAsync(From is { } from ? ColumnFrame.MillisecondsOf(from) : null, To is { } to ? ColumnFrame.MillisecondsOf(to) : null);
    }

    private ChartSettings Options() => new(
        Group, Height, HoldsZero, Pointed.HasDelegate, Shown.DecimalMark,
        [.. Columns.Select(column => new ChartLook(Shown.Words(column.Title), Shown.Words(column.Label), column.Look, column.Shape, column.IsFaint))],
        [.. Marks.Select(mark => new ChartLine(ColumnFrame.MillisecondsOf(mark.At), Shown.Words(mark.Label)))],
        [.. Bands]);

    private async Task FillAsync(double? from, double? to)
    {
        if (_asking is not null) await _asking.CancelAsync();
        _asking?.Dispose();
        _asking = new CancellationTokenSource();
        var mine = _asking.Token;
        try
        {
            var bytes = await Source([.. Columns.Select(column => column.Name)], from, to, MostRows, mine);
            if (mine.IsCancellationRequested || _chart is null || _isGone) return;
            _frame = ColumnFrame.Read(bytes);
            _problem = "";
            await _chart.InvokeVoidAsync("setData", bytes);
            _isReady = true;
        }
        catch (OperationCanceledException)
        {
            // A newer span is on its way.
            return;
        }
        catch (Exception failure) when (failure is HttpRequestException or FormatException or Surveys.SurveyApiException)
        {
            _problem = failure is Surveys.SurveyApiException ? failure.Message : "The values could not be had: the program does not answer. Look whether it still runs, then move the chart again.";
        }

        StateHasChanged();
    }

    private async Task MoveAsync(double share, double factor)
    {
        if (_chart is not null) await _chart.InvokeVoidAsync("move", share, factor);
    }

    private async Task SaveAsync(bool isSvg)
    {
        if (_chart is null) return;
        var name = $"{string.Concat(Title.Select(letter => char.IsAsciiLetterOrDigit(letter) ? char.ToLowerInvariant(letter) : '-'))}.{(isSvg ? "svg" : "png")}";
        if (isSvg) await _chart.InvokeVoidAsync("saveSvg", name, Title);
        else await _chart.InvokeVoidAsync("savePng", name);
    }

    private async Task DropAsync()
    {
        if (_chart is null) return;
        await _chart.InvokeVoidAsync("dispose");
        await _chart.DisposeAsync();
        _chart = null;
    }

    private sealed record ChartSettings(
        string Group, int Height, bool HoldsZero, bool TellsCursor, string DecimalMark, ImmutableArray<ChartLook> Looks, ImmutableArray<ChartLine> Marks, ImmutableArray<ChartBand> Bands);

    private sealed record ChartLook(string Name, string Label, int Look, string Shape, bool Faint);

    private sealed record ChartLine(double At, string Label);
}
