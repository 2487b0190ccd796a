using System.Collections.Frozen;
using Leadwright.Formats.Text;

namespace Leadwright.Formats.Matching;

/// <summary>What a word of a heading means.</summary>
[Flags]
internal enum LogWord : long
{
    /// <summary>Nothing that is known.</summary>
    None = 0,

    /// <summary>Voltage.</summary>
    Voltage = 1,

    /// <summary>Current.</summary>
    Current = 1 << 1,

    /// <summary>Power of any kind.</summary>
    Power = 1 << 2,

    /// <summary>Active.</summary>
    Active = 1 << 3,

    /// <summary>Reactive.</summary>
    Reactive = 1 << 4,

    /// <summary>Apparent.</summary>
    Apparent = 1 << 5,

    /// <summary>Energy.</summary>
    Energy = 1 << 6,

    /// <summary>Factor.</summary>
    Factor = 1 << 7,

    /// <summary>Displacement factor, cos φ.</summary>
    Displacement = 1 << 8,

    /// <summary>Frequency.</summary>
    Frequency = 1 << 9,

    /// <summary>Total harmonic distortion.</summary>
    Distortion = 1 << 10,

    /// <summary>A harmonic.</summary>
    Harmonic = 1 << 11,

    /// <summary>Unbalance.</summary>
    Unbalance = 1 << 12,

    /// <summary>Short-term flicker.</summary>
    ShortFlicker = 1 << 13,

    /// <summary>Long-term flicker.</summary>
    LongFlicker = 1 << 14,

    /// <summary>Crest factor.</summary>
    Crest = 1 << 15,

    /// <summary>An angle.</summary>
    Angle = 1 << 16,

    /// <summary>Smallest value.</summary>
    Minimum = 1 << 17,

    /// <summary>Largest value.</summary>
    Maximum = 1 << 18,

    /// <summary>Mean value.</summary>
    Mean = 1 << 19,

    /// <summary>Value of a moment.</summary>
    Instant = 1 << 20,

    /// <summary>Back to the supply.</summary>
    Export = 1 << 21,

    /// <summary>From the supply.</summary>
    Import = 1 << 22,

    /// <summary>All phases together.</summary>
    Total = 1 << 23,

    /// <summary>Phase or line: a place follows.</summary>
    Phase = 1 << 24,

    /// <summary>Neutral.</summary>
    Neutral = 1 << 25,

    /// <summary>Leading, capacitive.</summary>
    Leading = 1 << 26,

    /// <summary>Said of something worked out from the quantity, and not the quantity itself.</summary>
    Derived = 1 << 27,

    /// <summary>Zero sequence.</summary>
    Zero = 1 << 28,

    /// <summary>K: with a factor the K-factor.</summary>
    LetterK = 1 << 29,

    /// <summary>A word that adds nothing.</summary>
    Filler = 1 << 30,

    /// <summary>The stand of a counter.</summary>
    Counter = 1L << 31,

    /// <summary>What flowed within the interval.</summary>
    Interval = 1L << 32,
}

/// <summary>Words of the trade in headings: English, German, French, Spanish, Portuguese, Italian, Dutch, and the commonest of Danish, Norwegian, Swedish, Finnish, Polish, Czech, Hungarian, Turkish, Chinese, Japanese and Korean. From memory; common practice, no source.</summary>
internal static class LogWords
{
    private static readonly FrozenDictionary<string, LogWord> s_words = Make();

    /// <summary>The meaning of a word.</summary>
    /// <param name="word">The word, as <see cref="Plain"/> makes it.</param>
    public static LogWord Of(string word) => s_words.GetValueOrDefault(word);

    /// <summary>True for a word that has a meaning.</summary>
    public static bool IsKnown(string word) => Of(Plain(word)) != LogWord.None;

    /// <summary>Lower case, without marks on letters: é is e, ü is u, ß is ss.</summary>
    public static string Plain(string word) => PlainLetters.Of(word);

    private static FrozenDictionary<string, LogWord> Make()
    {
        const LogWord Watts = LogWord.Power | LogWord.Active;
        const LogWord Vars = LogWord.Power | LogWord.Reactive;
        const LogWord VoltAmperes = LogWord.Power | LogWord.Apparent;
        var words = new Dictionary<string, LogWord>(StringComparer.Ordinal);
        Add(LogWord.Voltage, "voltage voltages volt volts spannung spannungen sternspannung strangspannung phasenspannung leiterspannung netzspannung tension tensions tensiones tensioni tensao tensoes voltaje voltajes voltagem tensione spanning spanningen fasespanning lijnspanning spaending spenning napiecie napeti feszultseg gerilim jannite 电压 電圧 電壓 전압 u v vrms urms vln vll uln ull vac");
        Add(LogWord.Current, "current currents strom strome stromstarke phasenstrom leiterstrom courant courants intensite intensites intensity corriente corrientes intensidad corrente correnti correntes intensidade intensita stroom stromen fasestroom strom pradu prad proud aram akim virta 电流 電流 전류 i irms amp amps ampere amperes amperage iac");
        Add(LogWord.Current | LogWord.Neutral, "neutralstrom neutralleiterstrom nulleiterstrom");
        Add(LogWord.Power, "power effekt moc vykon teljesitmeny guc teho 功率 電力 전력 leistung puissance potencia potenza vermogen demand leistungsmittelwert load last charge carga carico belasting kwm");
        Add(LogWord.Active, "aktif czynna czynny cinny hatasos pato 有功 有効 유효 active real true wirk aktiv activa activo ativa ativo attiva attivo actif actieve actief werkelijk reelle");
        Add(LogWord.Reactive, "reaktif bierna bierny jalovy meddo loisteho 无功 無功 無効 무효 reactive blind reaktiv reactiva reactivo reativa reativo reattiva reattivo reactif reactieve reactief");
        Add(LogWord.Apparent, "pozorna pozorny zdanlivy latszolagos gorunur skenbar tilsyneladende naennais 视在 皮相 피상 apparent apparente aparente schein schijnbaar schijnbare");
        Add(Watts, "有効電力 有功功率 유효전력 wirkleistung werkvermogen watt watts kw p pw");
        Add(Vars, "無効電力 无功功率 無功功率 무효전력 blindleistung blindvermogen var vars kvar q");
        Add(VoltAmperes, "皮相電力 视在功率 視在功率 피상전력 scheinleistung schijnvermogen kva se");
        Add(LogWord.Energy, "energy energi enerji energie energia 电能 電力量 电量 전력량 arbeit consumption verbrauch consommation consumo consumos verbruik usage wp e ea");
        Add(LogWord.Energy | LogWord.Active, "有効電力量 有功电能 wirkenergie wirkarbeit kwh wh mwh");
        Add(LogWord.Energy | LogWord.Reactive, "blindenergie blindarbeit kvarh varh wq eq er");
        Add(LogWord.Energy | LogWord.Apparent, "scheinenergie scheinarbeit kvah vah");
        Add(LogWord.Factor, "factor faktor faktoru kerroin wspolczynnik ucinik tenyezo 因数 力率 역률 facteur fattore fator");
        Add(LogWord.Factor | LogWord.Power, "力率 功率因数 功率因數 역률 pf fp lf leistungsfaktor arbeidsfactor vermogensfactor powerfactor wirkfaktor wirkleistungsfaktor lambda λ tpf");
        Add(LogWord.Displacement, "displacement verschiebung verschiebungsfaktor dephasage desplazamiento deslocamento sfasamento verschuiving cosphi cosfi cosφ cosϕ dpf cos kosinus kosphi");
        Add(LogWord.Frequency, "frequency freq frequenz netzfrequenz frequence frecuencia frequencia frequenza frequentie frekvens czestotliwosc frekvence frekvencia frekans taajuus 频率 周波数 頻率 주파수 f hz");
        Add(LogWord.Distortion, "thd thdf thdr distortion klirrfaktor verzerrung distorsion distorsione distorcao vervorming oberschwingungsgehalt");
        Add(LogWord.Distortion | LogWord.Voltage, "thdu thdv uthd vthd");
        Add(LogWord.Distortion | LogWord.Current, "thdi ithd");
        Add(LogWord.Harmonic, "harmonic harmonics harmonische oberschwingung harmonique harmoniques armonico armonicos armonica armoniche harmonica harmonico harmonicos harmonischen harm");
        Add(LogWord.Unbalance, "unbalance imbalance unsymmetrie schieflast asymmetrie desequilibre desequilibrio squilibrio onbalans asymmetry unb");
        Add(LogWord.ShortFlicker, "pst");
        Add(LogWord.LongFlicker, "plt");
        Add(LogWord.Crest, "crest cf scheitelfaktor scheitel crete cresta crista fc");
        Add(LogWord.Angle, "angle winkel phasenwinkel angulo angolo hoek phi φ ϕ angles argument");
        Add(LogWord.Minimum, "min minimum minimal minimo minima minimaal minimalwert minwert minimale mini najnizsza 最小 최소");
        Add(LogWord.Maximum, "max maximum maximal maximo maxima maximaal maximalwert maxwert massimo massima maximale maxi maks najwyzsza 最大 최대");
        Add(LogWord.Mean, "avg average mean mittel mittelwert mittelw mw moy moyenne moyen media medio promedio prom gem gemiddeld gemiddelde ave avr med valmed durchschnitt srednia srednio prumer atlag ortalama gennemsnit gjennomsnitt medel medelvarde keskiarvo 平均 평균");
        Add(LogWord.Instant, "inst instant instantaneous momentan momentanwert instantane instantanee instantaneo instantanea ogenblikkelijk spot istantanea istantaneo");
        Add(LogWord.Export, "export exported exp lieferung abgabe ruckspeisung einspeisung generated generation exporte exportee exportada exportado entregada entregado inyectada injectee injetada immessa ceduta teruglevering geleverd reverse out returned sent");
        Add(LogWord.Import, "import imported imp bezug received consumed importe importee importada importado prelevata soutiree afname opgenomen forward in");
        Add(LogWord.Total, "total tot sum sigma σ gesamt summe totale totaux somme suma soma somma totaal ges system sys all global overall trifasica trifasico triphase triphasee 3ph iii celkem suma osszes toplam summa samlet 合计 总 合計 합계 threephase dreiphasig");
        Add(LogWord.Phase, "phase ph fase phases line leiter linea ligne linha lijn leg l aussenleiter lead");
        Add(LogWord.Neutral, "neutral neutre neutro neutralleiter n nul nulleiter nulgeleider");
        Add(LogWord.Leading, "leading lead capacitive kapazitiv capacitif capacitiva capacitivo capacitief cap");
        Add(LogWord.Derived, "deviation abweichung dc peak crestpeak fundamental ratio count cost price tariff co2 target limit setpoint tdd sn sen interharmonic signalling group positive negative ih spitze grundschwingung ecart desviacion status events event number temperature temp alarm");
        Add(LogWord.Zero, "zero null homopolar residual");
        Add(LogWord.LetterK, "k");
        Add(LogWord.Counter, "counter zahler zahlerstand compteur contador contatore teller tellerstand meterstand register cumulative cumulated cumulatif kumuliert acumulada acumulado");
        Add(LogWord.Interval, "interval intervall intervalle intervalo intervallo");
        Add(LogWord.Filler, "lagging lag inductive induktiv inductif inductiva ind rms eff effective of de du des der die das la le el des value valor wert valeur valore waarde per and und et y ln ll to dem al no nr trms ac mittlere medida");
        return words.ToFrozenDictionary(StringComparer.Ordinal);

        void Add(LogWord meaning, string list)
        {
            foreach (var word in list.Split(' ')) words.TryAdd(word, meaning);
        }
    }
}
