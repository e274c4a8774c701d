using FermentWatch.Infrastructure.Influx;

namespace FermentWatch.Service.Configuration;

/// <summary>Reads the section Influx.</summary>
internal static class InfluxReading
{
    public static InfluxSettings? Read(SettingValues values, string dataDirectory, List<string> warnings)
    {
        var url = values.Get(InfluxCatalog.Url);
        var org = values.Get(InfluxCatalog.Org);
        var bucket = values.Get(InfluxCatalog.Bucket);
        var site = values.Get(InfluxCatalog.Site);
        var token = SecretReading.Of(values, InfluxCatalog.Token, InfluxCatalog.TokenFile, dataDirectory);
        if (!values.Has(InfluxCatalog.Url))
        {
            Setting[] others = [InfluxCatalog.Org, InfluxCatalog.Bucket, InfluxCatalog.Site, InfluxCatalog.Token, InfluxCatalog.TokenFile];
            if (others.FirstOrDefault(other => values.Has(other)) is { } given)
            {
                values.Refuse(InfluxCatalog.Url, $"{given.Key} is given, so it is needed.");
            }

            return null;
        }

        if (url is { IsLoopback: false } && url.Scheme == Uri.UriSchemeHttp && token is not null)
        {
            warnings.Add("Influx:Url begins with http://: the token goes over the network in the clear.");
        }

        return url is null ? null : new InfluxSettings(url, org, bucket, site) { Token = token };
    }
}
