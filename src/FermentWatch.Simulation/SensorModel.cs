namespace FermentWatch.Simulation;

/// <summary>Turns the truth into what a sensor sends: first what it measures, then what the way to us does to it.</summary>
internal sealed class SensorModel(FermentScenario scenario, FermentCourse course, long seed)
{
    private readonly SensorTraits _sensor = scenario.Sensor;
    private readonly SeededNoise _noise = new(seed);
    private double _memory;
    private long _sent;

    public List<SimulatedReading> Readings()
    {
        var end = Math.Min(scenario.SensorHours, SimulatedFerment.TruthHours);
        var interval = _sensor.IntervalMinutes / 60;
        var sent = new List<SimulatedReading>((int)(end / interval) + 16);
        _memory = _noise.Normal();
        for (var hours = 0.0; hours <= end; hours += interval * (1 + _noise.Between(-_sensor.IntervalJitter, _sensor.IntervalJitter)))
        {
            var reading = Measure(hours, interval);
            if (!_sensor.Gaps.Any(gap => hours >= gap.FromHours && hours < gap.ToHours))
            {
                sent.Add(reading);
            }
        }

        return Deliver(sent, interval);
    }

    private SimulatedReading Measure(double hours, double interval)
    {
        var celsius = course.CelsiusAt(hours);
        var gravity = course.GravityAt(hours)
            + (_sensor.BubbleLift * course.GravityLossPerDay(hours))
            + (_sensor.DriftPerDay * hours / 24)
            + (_sensor.GravityPerCelsius * (celsius - 20))
            + (_sensor.GravityNoise * NextNoise(interval));
        for (var i = 0; i < _sensor.Offsets.Count; i++)
        {
            var offset = _sensor.Offsets[i];
            gravity += hours >= offset.FromHours && hours < offset.ToHours ? offset.Gravity : 0;
        }

        gravity = WithWork(gravity, hours);
        if (_noise.Happens(_sensor.SpikeShare))
        {
            gravity += (_noise.Happens(0.5) ? 1 : -1) * _noise.Between(0.01, 0.08);
        }

        celsius += _sensor.RoomShare * (scenario.Room.CelsiusAt(hours) + RoomChange(hours) - celsius);
        celsius += _sensor.CelsiusOffset + (_sensor.CelsiusNoise * _noise.Normal());
        var lacksGravity = _noise.Happens(_sensor.LacksGravityShare);
        var lacksCelsius = _noise.Happens(_sensor.LacksTemperatureShare);
        var off = 0.0;
        for (var i = 0; i < _sensor.ClockFaults.Count; i++)
        {
            var fault = _sensor.ClockFaults[i];
            off += hours >= fault.FromHours && hours < fault.ToHours ? fault.OffHours : 0;
        }

        return new(
            hours + off,
            lacksGravity ? null : Rounded(gravity, _sensor.GravityStep),
            lacksCelsius && !lacksGravity ? null : Rounded(celsius, _sensor.CelsiusStep))
        {
            ArrivedHours = hours,
            Device = hours >= _sensor.SwappedAtHours ? 1 : 0,
        };
    }

    // Draws noise only where there is work, so that a scenario without it stays as it was.
    private double WithWork(double gravity, double hours)
    {
        foreach (var stirred in _sensor.Stirred)
        {
            gravity += hours >= stirred && hours < stirred + 4 ? _noise.Between(0.004, 0.012) * Math.Exp(-(hours - stirred) / 0.7) : 0;
        }

        foreach (var spell in _sensor.Rubbish)
        {
            gravity = hours >= spell.FromHours && hours < spell.ToHours ? _noise.Between(0.93, 1.17) : gravity;
        }

        return _sensor.SecondDeviceOffset is { } offset && ++_sent % 3 == 0 ? gravity + offset : gravity;
    }

    private double RoomChange(double hours)
    {
        var change = 0.0;
        foreach (var act in scenario.Interventions)
        {
            change += act.Kind == InterventionKind.RoomChanged && act.HoursSinceInoculation <= hours ? act.Amount : 0;
        }

        return change;
    }

    /// <summary>Noise with memory and now and then a heavy tail; standard deviation 1 without the tail.</summary>
    private double NextNoise(double interval)
    {
        var kept = _sensor.NoiseMemoryHours > 0 ? Math.Exp(-interval / _sensor.NoiseMemoryHours) : 0;
        _memory = (kept * _memory) + (Math.Sqrt(1 - (kept * kept)) * _noise.Normal());
        return _noise.Happens(_sensor.HeavyTailShare) ? _memory + (3 * _noise.Normal()) : _memory;
    }

    private List<SimulatedReading> Deliver(List<SimulatedReading> sent, double interval)
    {
        for (var i = 0; i + 1 < sent.Count; i++)
        {
            if (_noise.Happens(_sensor.SwappedShare))
            {
                // The later one overtakes: both arrive when the later one would have.
                var arrived = sent[i + 1].ArrivedHours;
                (sent[i], sent[i + 1]) = (sent[i + 1] with { ArrivedHours = arrived }, sent[i] with { ArrivedHours = arrived });
                i++;
            }
        }

        var delivered = new List<SimulatedReading>(sent.Count + 64);
        foreach (var reading in sent)
        {
            delivered.Add(reading);
            var later = reading.ArrivedHours + Math.Min(interval / 4, 0.01);
            if (_noise.Happens(_sensor.RedeliveredShare))
            {
                delivered.Add(reading with { ArrivedHours = later, Redelivered = true });
            }

            if (_noise.Happens(_sensor.SentTwiceShare))
            {
                delivered.Add(reading with { ArrivedHours = later });
            }
        }

        return delivered;
    }

    private static double Rounded(double value, double step) => step > 0
        ? Math.Round(Math.Round(value / step) * step, 6)
        : value;
}
