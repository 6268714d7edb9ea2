#include <lowspot/gis/gdal_session.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <mutex>

#include <gdal_frmts.h>
#include <ogrsf_frmts.h>

namespace lowspot::gis {

void register_drivers() {
  static std::once_flag once;
  std::call_once(once, [] {
    GDALRegister_GTiff();
    GDALRegister_COG();
    GDALRegister_AAIGrid();
    GDALRegister_MEM();
    RegisterOGRGeoJSON();
    RegisterOGRDXF();
  });
}

void ErrorCatcher::catch_message(CPLErr level, CPLErrorNum, const char* text) {
  auto* self = static_cast<ErrorCatcher*>(CPLGetErrorHandlerUserData());
  if (self == nullptr || level < CE_Failure) return;
  ++self->failures_;
  if (self->message_.empty() && text) self->message_ = text;
}

ErrorCatcher::ErrorCatcher() {
  CPLPushErrorHandlerEx(&ErrorCatcher::catch_message, this);
}

ErrorCatcher::~ErrorCatcher() {
  CPLPopErrorHandler();
  CPLErrorReset();
}

} // namespace lowspot::gis
#endif
