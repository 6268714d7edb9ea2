#include "catch.hpp"

#include "geotiff.hpp"

#ifdef LOWSPOT_WITH_GDAL
using namespace lowspot::gis;

TEST_CASE("only the drivers that are needed are there", "[gdal_session]") {
  register_drivers();
  register_drivers();
  GDALDriverManager* manager = GetGDALDriverManager();
  CHECK(manager->GetDriverByName("GTiff"));
  CHECK(manager->GetDriverByName("AAIGrid"));
  CHECK(manager->GetDriverByName("MEM"));
  CHECK_FALSE(manager->GetDriverByName("VRT"));
  CHECK_FALSE(manager->GetDriverByName("WMS"));
}

TEST_CASE("the library's errors are caught, the first one kept, nested catchers apart", "[gdal_session]") {
  ErrorCatcher outer;
  CPLError(CE_Warning, CPLE_AppDefined, "only a warning");
  CHECK(outer.message().empty());
  {
    ErrorCatcher inner;
    CPLError(CE_Failure, CPLE_AppDefined, "inner trouble");
    CHECK(inner.message() == "inner trouble");
  }
  CHECK(outer.message().empty());
  CPLError(CE_Failure, CPLE_AppDefined, "first");
  CPLError(CE_Failure, CPLE_AppDefined, "second");
  CHECK(outer.message() == "first");
}
#endif
