// What every use of the raster library needs: drivers registered once, its complaints caught and not printed.
#pragma once
#ifdef LOWSPOT_WITH_GDAL
#include <memory>
#include <string>

#include <cpl_error.h>
#include <gdal_priv.h>

namespace lowspot::gis {

// Registers only the drivers that are needed, since every further one is a way in for a hostile file.
void register_drivers();

// Catches the library's messages of this thread while it lives.
class ErrorCatcher {
public:
  ErrorCatcher();
  ~ErrorCatcher();
  ErrorCatcher(const ErrorCatcher&) = delete;
  ErrorCatcher& operator=(const ErrorCatcher&) = delete;
  // The first error caught so far; empty when there was none.
  const std::string& message() const { return message_; }
  int failures() const { return failures_; } // how many errors were caught so far

private:
  static void catch_message(CPLErr level, CPLErrorNum number, const char* text);
  std::string message_;
  int failures_ = 0;
};

struct CloseDataset {
  void operator()(GDALDataset* dataset) const { GDALClose(GDALDataset::ToHandle(dataset)); }
};
using DatasetPtr = std::unique_ptr<GDALDataset, CloseDataset>;

} // namespace lowspot::gis
#endif
