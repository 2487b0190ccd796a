namespace Leadwright.Formats.Pqdif;

/// <summary>The tags of records and of their elements, format version 1.5.</summary>
/// <remarks>Source: the public header files of the IEEE 1159.3 working group; see docs/formats/pqdif.md.</remarks>
internal static class PqdifTag
{
    /// <summary>Begins the file and every record.</summary>
    public static readonly Guid Signature = new("4a111440-e49f-11cf-9900-505144494600");

    // Record type.
    public static readonly Guid Container = new("89738606-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid RecDataSource = new("89738619-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid RecMonitorSettings = new("b48d858c-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid RecObservation = new("8973861a-f1c3-11cf-9d89-0080c72e70a3");

    // Any.
    public static readonly Guid Blank = new("89738618-f1c3-11cf-9d89-0080c72e70a3");

    // Container.
    public static readonly Guid VersionInfo = new("89738607-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid FileName = new("89738608-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Creation = new("89738609-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid LastSaved = new("8973860a-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimesSaved = new("8973860b-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Language = new("8973860c-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Title = new("8973860d-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Subject = new("8973860e-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Author = new("8973860f-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Keywords = new("89738610-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Comments = new("89738611-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid LastSavedBy = new("89738612-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Application = new("89738623-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Security = new("89738613-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Owner = new("89738614-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Copyright = new("89738615-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Trademarks = new("89738616-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid Notes = new("89738617-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid CompressionStyleID = new("8973861b-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid CompressionAlgorithmID = new("8973861c-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid CompressionChecksum = new("8973861d-f1c3-11cf-9d89-0080c72e70a3");

    // Contact.
    public static readonly Guid Name = new("b48d85a2-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid Address1 = new("b48d85a3-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid Address2 = new("b48d85a4-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid City = new("b48d85a5-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid State = new("b48d85a6-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid PostalCode = new("b48d85a7-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid Country = new("b48d85a8-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid PhoneVoice = new("b48d85a9-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid PhoneFAX = new("3d786f80-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid EMail = new("3d786f81-f76e-11cf-9d89-0080c72e70a3");

    // Data source.
    public static readonly Guid DataSourceTypeID = new("b48d8581-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid VendorID = new("b48d8582-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid EquipmentID = new("b48d8583-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid CustomSourceInfo = new("b48d8584-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid SerialNumberDS = new("b48d8585-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid VersionDS = new("b48d8586-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid NameDS = new("b48d8587-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid OwnerDS = new("b48d8588-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid LocationDS = new("b48d8589-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeZoneDS = new("b48d858a-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid CoordinatesDS = new("b48d858b-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelDefns = new("b48d858d-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid InstrumentTypeID = new("3d786f82-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid InstrumentModelName = new("3d786f83-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid InstrumentModelNumber = new("3d786f84-f76e-11cf-9d89-0080c72e70a3");

    // Channel definition.
    public static readonly Guid OneChannelDefn = new("b48d858e-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelName = new("b48d8590-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid PhaseID = new("b48d8591-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid OtherChannelIdentifier = new("b48d8593-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid GroupName = new("b48d8594-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantityTypeID = new("b48d8592-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantityMeasuredID = new("c690e872-f755-11cf-9d89-0080c72e70a3");
    public static readonly Guid PhysicalChannel = new("89738622-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantityName = new("b48d8595-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid PrimarySeriesIdx = new("b48d8596-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesDefns = new("b48d8598-f5f5-11cf-9d89-0080c72e70a3");

    // Series definition.
    public static readonly Guid OneSeriesDefn = new("b48d859a-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ValueTypeID = new("b48d859c-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantityUnitsID = new("b48d859b-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantityCharacteristicID = new("3d786f9e-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid QuantitySignificantDigitsID = new("a112f421-b111-11d2-9b37-0040052c2d28");
    public static readonly Guid QuantityResolutionID = new("fb228ee0-fc8d-11d2-b49a-006008b37183");
    public static readonly Guid StorageMethodID = new("b48d85a1-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ValueTypeName = new("b48d859d-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid HintGreekPrefixID = new("b48d859e-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid HintPreferredUnitsID = new("b48d859f-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid HintDefaultDisplayID = new("b48d85a0-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ProbInterval = new("2747d441-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid ProbPercentile = new("2747d440-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid SeriesNominalQuantity = new("0fa118c8-cb4a-11d2-b30b-fe25cb9a1760");

    // Monitor settings.
    public static readonly Guid Effective = new("62f28183-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeInstalled = new("3d786f85-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeRemoved = new("3d786f86-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid UseCalibration = new("62f28180-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid UseTransducer = new("62f28181-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelSettingsArray = new("62f28182-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid NominalFrequency = new("0fa118c3-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid SettingPhysicalConnection = new("9f256ee0-803b-11d3-b92f-0050da2b1f4d");
    public static readonly Guid OneChannelSetting = new("3d786f9a-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelDefnIdx = new("b48d858f-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerTypeID = new("62f28184-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid FullScale = new("3d786f87-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid NoiseFloor = new("3d786f89-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerShapeParam = new("62f28188-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid XDTransformerTypeID = new("62f28189-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid XDSystemSideRatio = new("62f2818a-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid XDMonitorSideRatio = new("62f2818b-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid XDFrequencyResponse = new("62f2818c-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalTimeSkew = new("62f2818d-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalOffset = new("62f2818e-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalRatio = new("62f2818f-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalMustUseARCal = new("62f28190-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalApplied = new("62f28191-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid CalRecorded = new("62f28192-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerHighHigh = new("5b12f431-ff54-11d3-b968-0050da2b1f4d");
    public static readonly Guid TriggerHigh = new("62f28186-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerLow = new("62f28185-f9c4-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerLowLow = new("5b12f430-ff54-11d3-b968-0050da2b1f4d");
    public static readonly Guid TriggerDeadBand = new("5b12f432-ff54-11d3-b968-0050da2b1f4d");
    public static readonly Guid TriggerRate = new("62f28187-f9c4-11cf-9d89-0080c72e70a3");

    // Observation.
    public static readonly Guid ObservationName = new("3d786f8a-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeCreate = new("3d786f8b-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeStart = new("3d786f8c-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TriggerMethodID = new("3d786f8d-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid TimeTriggered = new("3d786f8e-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelTriggerIdx = new("3d786f8f-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid ObservationSerial = new("3d786f90-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid ObservationAggregationSerial = new("89738621-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid DisturbanceCategoryID = new("b48d8597-f5f5-11cf-9d89-0080c72e70a3");
    public static readonly Guid ChannelInstances = new("3d786f91-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid CharactDisturbDirection = new("0fa118c0-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid CharactDisturbDirectionQuality = new("0fa118c1-cb4a-11d2-b30b-fe25cb9a1760");

    // Channel instance.
    public static readonly Guid OneChannelInst = new("3d786f92-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid CharactDuration = new("2747d444-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid SeriesInstances = new("3d786f93-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid CharactMagnitude = new("2747d443-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid CharactFrequency = new("2747d445-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid ChanTriggerModuleInfo = new("0fa118c7-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid ChanTriggerModuleName = new("0fa118c6-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid CrossTriggerDeviceName = new("0fa118c5-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid CrossTriggerChanIdx = new("0fa118c4-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid ChanTriggerTypeID = new("0fa118c2-cb4a-11d2-b30b-fe25cb9a1760");
    public static readonly Guid ChannelFrequency = new("2747d442-2bd0-11d2-ae42-0060083a2628");
    public static readonly Guid ChannelGroupID = new("f90de218-e67b-4cf1-a295-b021a2d46767");

    // Series instance.
    public static readonly Guid OneSeriesInstance = new("3d786f94-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesBaseQuantity = new("3d786f95-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesScale = new("3d786f96-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesOffset = new("3d786f97-f76e-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesShareChannelIdx = new("8973861f-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesShareSeriesIdx = new("89738620-f1c3-11cf-9d89-0080c72e70a3");
    public static readonly Guid SeriesValues = new("3d786f99-f76e-11cf-9d89-0080c72e70a3");

    /// <summary>The kind of a data source that measures.</summary>
    public static readonly Guid DataSourceMeasured = new("e6b51730-f747-11cf-9d89-0080c72e70a3");

    private static readonly Dictionary<Guid, string> s_names = new()
    {
        [Container] = "tagContainer",
        [RecDataSource] = "tagRecDataSource",
        [RecMonitorSettings] = "tagRecMonitorSettings",
        [RecObservation] = "tagRecObservation",
        [Blank] = "tagBlank",
        [VersionInfo] = "tagVersionInfo",
        [FileName] = "tagFileName",
        [Creation] = "tagCreation",
        [LastSaved] = "tagLastSaved",
        [TimesSaved] = "tagTimesSaved",
        [Language] = "tagLanguage",
        [Title] = "tagTitle",
        [Subject] = "tagSubject",
        [Author] = "tagAuthor",
        [Keywords] = "tagKeywords",
        [Comments] = "tagComments",
        [LastSavedBy] = "tagLastSavedBy",
        [Application] = "tagApplication",
        [Security] = "tagSecurity",
        [Owner] = "tagOwner",
        [Copyright] = "tagCopyright",
        [Trademarks] = "tagTrademarks",
        [Notes] = "tagNotes",
        [CompressionStyleID] = "tagCompressionStyleID",
        [CompressionAlgorithmID] = "tagCompressionAlgorithmID",
        [CompressionChecksum] = "tagCompressionChecksum",
        [Name] = "tagName",
        [Address1] = "tagAddress1",
        [Address2] = "tagAddress2",
        [City] = "tagCity",
        [State] = "tagState",
        [PostalCode] = "tagPostalCode",
        [Country] = "tagCountry",
        [PhoneVoice] = "tagPhoneVoice",
        [PhoneFAX] = "tagPhoneFAX",
        [EMail] = "tagEMail",
        [DataSourceTypeID] = "tagDataSourceTypeID",
        [VendorID] = "tagVendorID",
        [EquipmentID] = "tagEquipmentID",
        [CustomSourceInfo] = "tagCustomSourceInfo",
        [SerialNumberDS] = "tagSerialNumberDS",
        [VersionDS] = "tagVersionDS",
        [NameDS] = "tagNameDS",
        [OwnerDS] = "tagOwnerDS",
        [LocationDS] = "tagLocationDS",
        [TimeZoneDS] = "tagTimeZoneDS",
        [CoordinatesDS] = "tagCoordinatesDS",
        [ChannelDefns] = "tagChannelDefns",
        [InstrumentTypeID] = "tagInstrumentTypeID",
        [InstrumentModelName] = "tagInstrumentModelName",
        [InstrumentModelNumber] = "tagInstrumentModelNumber",
        [OneChannelDefn] = "tagOneChannelDefn",
        [ChannelName] = "tagChannelName",
        [PhaseID] = "tagPhaseID",
        [OtherChannelIdentifier] = "tagOtherChannelIdentifier",
        [GroupName] = "tagGroupName",
        [QuantityTypeID] = "tagQuantityTypeID",
        [QuantityMeasuredID] = "tagQuantityMeasuredID",
        [PhysicalChannel] = "tagPhysicalChannel",
        [QuantityName] = "tagQuantityName",
        [PrimarySeriesIdx] = "tagPrimarySeriesIdx",
        [SeriesDefns] = "tagSeriesDefns",
        [OneSeriesDefn] = "tagOneSeriesDefn",
        [ValueTypeID] = "tagValueTypeID",
        [QuantityUnitsID] = "tagQuantityUnitsID",
        [QuantityCharacteristicID] = "tagQuantityCharacteristicID",
        [QuantitySignificantDigitsID] = "tagQuantitySignificantDigitsID",
        [QuantityResolutionID] = "tagQuantityResolutionID",
        [StorageMethodID] = "tagStorageMethodID",
        [ValueTypeName] = "tagValueTypeName",
        [HintGreekPrefixID] = "tagHintGreekPrefixID",
        [HintPreferredUnitsID] = "tagHintPreferredUnitsID",
        [HintDefaultDisplayID] = "tagHintDefaultDisplayID",
        [ProbInterval] = "tagProbInterval",
        [ProbPercentile] = "tagProbPercentile",
        [SeriesNominalQuantity] = "tagSeriesNominalQuantity",
        [Effective] = "tagEffective",
        [TimeInstalled] = "tagTimeInstalled",
        [TimeRemoved] = "tagTimeRemoved",
        [UseCalibration] = "tagUseCalibration",
        [UseTransducer] = "tagUseTransducer",
        [ChannelSettingsArray] = "tagChannelSettingsArray",
        [NominalFrequency] = "tagNominalFrequency",
        [SettingPhysicalConnection] = "tagSettingPhysicalConnection",
        [OneChannelSetting] = "tagOneChannelSetting",
        [ChannelDefnIdx] = "tagChannelDefnIdx",
        [TriggerTypeID] = "tagTriggerTypeID",
        [FullScale] = "tagFullScale",
        [NoiseFloor] = "tagNoiseFloor",
        [TriggerShapeParam] = "tagTriggerShapeParam",
        [XDTransformerTypeID] = "tagXDTransformerTypeID",
        [XDSystemSideRatio] = "tagXDSystemSideRatio",
        [XDMonitorSideRatio] = "tagXDMonitorSideRatio",
        [XDFrequencyResponse] = "tagXDFrequencyResponse",
        [CalTimeSkew] = "tagCalTimeSkew",
        [CalOffset] = "tagCalOffset",
        [CalRatio] = "tagCalRatio",
        [CalMustUseARCal] = "tagCalMustUseARCal",
        [CalApplied] = "tagCalApplied",
        [CalRecorded] = "tagCalRecorded",
        [TriggerHighHigh] = "tagTriggerHighHigh",
        [TriggerHigh] = "tagTriggerHigh",
        [TriggerLow] = "tagTriggerLow",
        [TriggerLowLow] = "tagTriggerLowLow",
        [TriggerDeadBand] = "tagTriggerDeadBand",
        [TriggerRate] = "tagTriggerRate",
        [ObservationName] = "tagObservationName",
        [TimeCreate] = "tagTimeCreate",
        [TimeStart] = "tagTimeStart",
        [TriggerMethodID] = "tagTriggerMethodID",
        [TimeTriggered] = "tagTimeTriggered",
        [ChannelTriggerIdx] = "tagChannelTriggerIdx",
        [ObservationSerial] = "tagObservationSerial",
        [ObservationAggregationSerial] = "tagObservationAggregationSerial",
        [DisturbanceCategoryID] = "tagDisturbanceCategoryID",
        [ChannelInstances] = "tagChannelInstances",
        [CharactDisturbDirection] = "tagCharactDisturbDirection",
        [CharactDisturbDirectionQuality] = "tagCharactDisturbDirectionQuality",
        [OneChannelInst] = "tagOneChannelInst",
        [CharactDuration] = "tagCharactDuration",
        [SeriesInstances] = "tagSeriesInstances",
        [CharactMagnitude] = "tagCharactMagnitude",
        [CharactFrequency] = "tagCharactFrequency",
        [ChanTriggerModuleInfo] = "tagChanTriggerModuleInfo",
        [ChanTriggerModuleName] = "tagChanTriggerModuleName",
        [CrossTriggerDeviceName] = "tagCrossTriggerDeviceName",
        [CrossTriggerChanIdx] = "tagCrossTriggerChanIdx",
        [ChanTriggerTypeID] = "tagChanTriggerTypeID",
        [ChannelFrequency] = "tagChannelFrequency",
        [ChannelGroupID] = "tagChannelGroupID",
        [OneSeriesInstance] = "tagOneSeriesInstance",
        [SeriesBaseQuantity] = "tagSeriesBaseQuantity",
        [SeriesScale] = "tagSeriesScale",
        [SeriesOffset] = "tagSeriesOffset",
        [SeriesShareChannelIdx] = "tagSeriesShareChannelIdx",
        [SeriesShareSeriesIdx] = "tagSeriesShareSeriesIdx",
        [SeriesValues] = "tagSeriesValues",
    };

    /// <summary>True for a tag of version 1.5.</summary>
    public static bool IsKnown(Guid tag) => s_names.ContainsKey(tag);

    /// <summary>The standard's name of a tag; the identifier itself when it is none of version 1.5.</summary>
    public static string NameOf(Guid tag) => s_names.TryGetValue(tag, out var name) ? name : tag.ToString();
}
