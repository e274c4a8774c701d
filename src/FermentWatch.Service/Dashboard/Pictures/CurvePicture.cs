using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>The picture of a batch: what was measured, falling, twenty ways on, and when each ends.</summary>
internal sealed class CurvePicture
{
    private readonly BatchView _view;
    private readonly Reader _reader;
    private readonly PictureBox _box;
    private readonly CurveScale _scale;
    private readonly CurveWindow _window;
    private readonly TimeAxis _time;
    private readonly Axis _height;
    private readonly PictureWriter _svg;
    private readonly string _id;
    private List<IReadOnlyList<Spot>>? _stretches;

    private CurvePicture(BatchView view, Reader reader, PictureRequest request, PictureBox box, PictureWriter on)
    {
        (_view, _reader, _box, _svg) = (view, reader, box, on);
        _scale = CurveScale.For(view, request.Kind, reader);
        _window = CurveWindow.Of(view, _scale, request);
        _time = new TimeAxis(_window.From, _window.Until, _box.Edge, _box.Right);
        _height = new Axis(_window.Low, _window.High, _box.Base, _box.Top + 4);
        _id = "curve-" + _box.CssClass;
    }

    /// <summary>The SVG element, or null while there is nothing to draw.</summary>
    public static string? Draw(BatchView view, Reader reader, PictureRequest request)
    {
        var svg = new SvgWriter();
        return DrawOn(svg, view, reader, request, PictureBox.Of(request.Width)) ? svg.Close() : null;
    }

    /// <summary>Draws on anything; false while there is nothing to draw.</summary>
    public static bool DrawOn(PictureWriter on, BatchView view, Reader reader, PictureRequest request, PictureBox box)
    {
        if (view.Gravity.Count == 0)
        {
            return false;
        }

        new CurvePicture(view, reader, request, box, on).Write();
        return true;
    }

    private void Write()
    {
        var futures = CurveWindow.FuturesOf(_view);
        var dots = DotStack.Of([.. ChanceDots.Of([.. futures.Select(future => _time.At(future.Finish)).Order()], _box.Chances).Where(x => x >= _box.Edge && x <= _box.Right)], _box.DotRadius, _box.DotRoom);
        var withOdds = dots.Offsets.Count > 0;
        var bottom = _box.Base + (withOdds ? Math.Max(24, dots.Height + 5) : 26);
        var (title, finding) = CurveWords.Of(_view, _reader, _scale, _window);
        // Where no event falls into the window the lane takes no room.
        var top = _view.Events.Any(entry => _time.Shows(entry.At)) ? 0 : _box.Top - 20;
        var hasBracket = withOdds && _view.Forecast is { Finish: { P05: not null, P95: not null } };
        // The dots take the row below the line; the dates stand below them and their bracket.
        var datesAt = withOdds && _box.HasDateRow ? bottom + (hasBracket ? 34 : 0) : _box.Base;
        _svg.Open(_id, _box.CssClass, _box.Width, datesAt > _box.Base ? datesAt + 26 : bottom + (withOdds ? 36 : 0), title, finding, top);
        _svg.ClipTo(_id + "c", _box.Edge - 1, _box.Top - 2, _box.Right + 1, _box.Base + 1);
        WriteWash();
        foreach (var value in Axis.Steps(_window.Low, _window.High, _window.Step))
        {
            _svg.Path("grid", Horizontal(_height.At(value)));
        }

        foreach (var future in futures)
        {
            var path = Taper.Of([.. future.Points.Select(Place)], _box.FutureFrom, _box.FutureTo);
            if (path.Length > 0)
            {
                _svg.Path("future", path);
            }
        }

        WriteMeasured();
        NutrientLevels.Write(_svg, _view, _reader, _time, _height, _scale, _box);
        _svg.EndGroup().Path("base", Horizontal(_box.Base));
        WriteMarks();
        WriteNow();
        WriteAxisWords();
        WriteEvents();
        dots.WriteBelow(_svg, _box.Base);
        TimeTicks.Write(_svg, TimeTicks.Of(_time, _reader), datesAt, datesAt + 20, _box.Edge, _box.Right, datesAt > _box.Base ? null : Taken(dots));
        if (withOdds && _view.Forecast is { } forecast)
        {
            WriteBracket(forecast, bottom);
        }
    }

    private static (double From, double To)? Taken(DotStack dots) =>
        dots.Offsets.Count == 0 ? null : (dots.Offsets.Min(dot => dot.X) - 12, dots.Offsets.Max(dot => dot.X) + 12);

    private void WriteWash()
    {
        foreach (var stretch in Stretches())
        {
            var floor = SvgWriter.Number(_box.Base);
            _svg.Path("wash", $"{SvgWriter.Line(stretch)} {SvgWriter.Number(stretch[^1].X)} {floor} {SvgWriter.Number(stretch[0].X)} {floor}Z");
        }
    }

    private void WriteMeasured()
    {
        foreach (var stretch in Stretches())
        {
            // A lone bin between two gaps is a dot of the line's own width.
            var (first, last) = (stretch[0], stretch[^1]);
            _svg.Path("measured", SvgWriter.Line(stretch.Count > 1 ? stretch : [first with { X = first.X - 0.3 }, last with { X = last.X + 0.3 }]));
        }

        foreach (var gap in _view.GravityGaps)
        {
            var before = LastBefore(gap.From);
            if (before >= 0 && before + 1 < _view.Gravity.Count)
            {
                _svg.Path("gap", SvgWriter.Line([Place(_view.Gravity[before]), Place(_view.Gravity[before + 1])]));
            }
        }

        if (_view.Forecast is { Fit.Count: > 1 } forecast)
        {
            // Where no future goes on from it, the curve ends with what was measured: a lone line through silence would look like knowledge.
            var until = CurveWindow.FuturesOf(_view).Count > 0 ? _view.Now : _view.Gravity[^1].At;
            _svg.Path("fit", SvgWriter.Line(Thinning.Of([.. forecast.Fit.Where(point => point.At <= until).Select(Place)], _box.Buckets / 4)));
        }
    }

    private void WriteMarks()
    {
        foreach (var spot in _view.SetAside.Where(point => _time.Shows(point.At)).Select(point => Place(point.At, _scale.Value(point.Gravity))).Where(IsInside))
        {
            _svg.Path("aside", $"M{SvgWriter.Number(spot.X - 3.5)} {SvgWriter.Number(spot.Y - 3.5)}l7 7m0-7l-7 7");
        }

        foreach (var entry in _view.Events.Where(entry => entry.Kind == JournalKind.MeasuredByHand && _time.Shows(entry.At)))
        {
            if (CurveWords.GravityOf(entry) is { } gravity && Place(entry.At, _scale.Value(gravity)) is var spot && IsInside(spot))
            {
                _svg.Path("hand", $"M{SvgWriter.Number(spot.X)} {SvgWriter.Number(spot.Y - 6)}l6 6-6 6-6-6z");
            }
        }
    }

    private void WriteNow()
    {
        if (_time.Shows(_view.Now))
        {
            var x = SvgWriter.Number(_time.At(_view.Now));
            _svg.Path("now", $"M{x} {SvgWriter.Number(_box.Top)}V{SvgWriter.Number(_box.Base)}");
        }

        var newest = _view.Gravity[^1];
        if (!_time.Shows(newest.At))
        {
            return;
        }

        var spot = Place(newest);
        if (_scale.Kind == CurveKind.Sugar && _view.SugarLeft is { } left)
        {
            var value = _scale.Value(newest.Gravity);
            var top = Math.Max(_box.Top, _height.At(value + left.Tolerance));
            var low = Math.Min(_box.Base, _height.At(Math.Max(0, value - left.Tolerance)));
            _svg.Path("range", $"M{SvgWriter.Number(spot.X)} {SvgWriter.Number(top)}V{SvgWriter.Number(low)}m-4 0h8M{SvgWriter.Number(spot.X - 4)} {SvgWriter.Number(top)}h8");
        }

        var words = CurveWords.NewestOf(_view, _scale);
        var width = PictureBox.StrongWidth(words) + 12;
        var onRight = spot.X + width < _box.Right;
        var y = Math.Clamp(spot.Y - 18, _box.Top + 16, _box.Base - 8);
        _svg.Circle("nowpt", spot, 5)
            .Text("strong halo", onRight ? spot.X + 10 : Math.Max(_box.Edge + width, spot.X - 10), y, words, onRight ? Anchor.Start : Anchor.End);
    }

    private void WriteAxisWords()
    {
        var steps = Axis.Steps(_window.Low, _window.High, _window.Step).ToList();
        for (var i = 0; i < steps.Count; i++)
        {
            var words = i < steps.Count - 1 ? _scale.Mark(steps[i])
                : CurveWindow.FuturesOf(_view).Count > 0 ? _scale.TopMark(steps[i])
                : _scale.ShortTopMark(steps[i]);
            _svg.Text("soft halo", _box.Right, _height.At(steps[i]) - 5, words, Anchor.End);
        }

        if (_scale.Kind == CurveKind.Gravity || _window.Low > 0)
        {
            _svg.Text("soft halo", _box.Right, _box.Base - 5, _scale.Mark(_window.Low), Anchor.End);
        }
    }

    private void WriteEvents()
    {
        var shown = _view.Events.Select((entry, i) => (Number: i + 1, entry.At)).Where(entry => _time.Shows(entry.At))
            .Select(entry => (entry.Number, X: _time.At(entry.At))).ToList();
        EventLane.Write(_svg, EventLane.Arrange(shown, _box.Edge, _box.Right, _box.LaneStep), _box.Top);
    }

    private void WriteBracket(GravityForecast forecast, double y)
    {
        if (forecast.Finish is not { P05: { } early, P95: { } late })
        {
            return;
        }

        var (left, right) = (Math.Clamp(_time.At(early), _box.Edge, _box.Right), Math.Clamp(_time.At(late), _box.Edge, _box.Right));
        right = Math.Max(right, left + 2);
        _svg.Path("range", $"M{SvgWriter.Number(left)} {SvgWriter.Number(y)}v8M{SvgWriter.Number(left)} {SvgWriter.Number(y + 4)}H{SvgWriter.Number(right)}m0-4v8");
        var words = PageText.Of("odds-bracket", CurveWords.ShortRange(_reader, early, late));
        var half = PictureBox.TextWidth(words) / 2;
        var middle = Math.Clamp((left + right) / 2, _box.Edge + half, Math.Max(_box.Edge + half, _box.Right - half));
        _svg.Text("halo", middle, y + 25, words, Anchor.Middle);
    }

    private List<IReadOnlyList<Spot>> Stretches() => _stretches ??= FindStretches();

    /// <summary>The measured line between gaps, thinned to what the picture can show. Beyond the window only what leads into it is drawn.</summary>
    private List<IReadOnlyList<Spot>> FindStretches()
    {
        var stretches = new List<IReadOnlyList<Spot>>();
        var present = new List<GravityPoint>();
        GravityPoint? before = null;
        foreach (var point in InWindow())
        {
            if (before is { } last && _view.GravityGaps.Any(gap => gap.From >= last.At && gap.Until <= point.At))
            {
                stretches.Add(Thinned(present));
                present = [];
            }

            present.Add(point);
            before = point;
        }

        if (present.Count > 0)
        {
            stretches.Add(Thinned(present));
        }

        return stretches;
    }

    private List<Spot> Thinned(List<GravityPoint> line) => [.. Thinning.Of(line, _box.Buckets, _window).Select(Place)];

    /// <summary>The last point up to a time; -1 for none. Points are in order of time.</summary>
    private int LastBefore(EventTime at)
    {
        var (low, high) = (0, _view.Gravity.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = _view.Gravity[middle].At <= at ? (middle + 1, high) : (low, middle);
        }

        return low - 1;
    }

    // A neighbor on either side, so that the line goes through the edge of the picture.
    private IEnumerable<GravityPoint> InWindow()
    {
        var points = _view.Gravity;
        var first = Math.Max(0, LastBefore(_window.From));
        for (var i = first; i < points.Count; i++)
        {
            yield return points[i];
            if (points[i].At > _window.Until)
            {
                yield break;
            }
        }
    }

    private string Horizontal(double y) => $"M{SvgWriter.Number(_box.Edge)} {SvgWriter.Number(y)}H{SvgWriter.Number(_box.Right)}";

    private bool IsInside(Spot spot) => spot.Y >= _box.Top && spot.Y <= _box.Base;

    private Spot Place(GravityPoint point) => Place(point.At, _scale.Value(point.Gravity));

    private Spot Place(CurvePoint point) => Place(point.At, _scale.Value(point.Gravity));

    private Spot Place(EventTime at, double value) => new(_time.At(at), _height.At(value));
}
