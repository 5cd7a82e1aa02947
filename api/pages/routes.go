package pages

import "github.com/labstack/echo/v4"

// Routes says which screen answers at which address. Every page is here and nowhere else.
func (p *Pages) Routes(e *echo.Echo) {
	e.GET("/assets/:hash/:name", p.Asset)
	e.GET("/sw.js", p.Worker)
	e.GET("/manifest.webmanifest", p.Manifest)
	e.GET("/offline", p.Offline)
	e.GET("/waiting", p.Waiting)
	e.GET("/", p.FitOuts)
	e.GET("/new", p.NewFitOut)
	e.POST("/new", p.OpenFitOut)
	e.POST("/new/file", p.TakeFile)
	e.GET("/you", p.You)
	e.POST("/you", p.KeepName)
	e.GET("/f/:code", p.Today)
	e.GET("/f/:code/log", p.LogHome)
	e.GET("/f/:code/log/again", p.LogAgain)
	e.GET("/f/:code/log/assembly/:recipe", p.LogForm)
	e.POST("/f/:code/log/assembly/:recipe", p.SaveLog)
	e.GET("/f/:code/log/run", p.LogForm)
	e.POST("/f/:code/log/run", p.SaveLog)
	e.GET("/f/:code/log/piece", p.LogForm)
	e.POST("/f/:code/log/piece", p.SaveLog)
	e.GET("/f/:code/log/found", p.LogForm)
	e.POST("/f/:code/log/found", p.SaveLog)
	e.GET("/f/:code/log/made/:entry", p.LogMade)
	e.POST("/f/:code/log/made/:entry", p.StrikeLogged)
	e.GET("/f/:code/drawings", p.Drawings)
	e.GET("/f/:code/strip-out", p.StripOut)
	e.GET("/f/:code/strip-out/programme", p.Programme)
	e.GET("/f/:code/strip-out/:step", p.Step)
	e.POST("/f/:code/strip-out/:step/done", p.TickOff)
	e.POST("/f/:code/strip-out/:step/sign", p.SignHold)
	e.GET("/f/:code/register", p.Register)
	e.GET("/f/:code/register/:list", p.Register)
	for _, n := range []noun{assemblyNoun, pieceNoun, fixingNoun, holeNoun, hostNoun} {
		record := "/f/:code/" + n.path + "/:record"
		e.GET(record, p.Record(n))
		e.POST(record+"/amend", p.AmendRecord(n))
		e.POST(record+"/photo", p.AddPhoto(n))
		if n.strike != nil {
			e.POST(record+"/strike", p.StrikeRecord(n))
		}
	}
	e.POST("/f/:code/hosts/:record/condition", p.AddCondition)
	e.GET("/f/:code/photos/:photo", p.PhotoFile)
	e.GET("/f/:code/closing-up", p.ClosingUp)
	e.POST("/f/:code/closing-up", p.SignClosingUp)
	e.GET("/f/:code/making-good", p.MakingGood)
	e.GET("/f/:code/making-good/:about", p.Repair)
	e.POST("/f/:code/making-good/:about", p.SignRepair)
	e.POST("/f/:code/making-good/:about/withdraw", p.SpoilRepair)
	e.GET("/f/:code/schedule", p.Schedule)
	e.GET("/f/:code/salvage", p.Salvage)
	e.GET("/f/:code/free", p.Free)
	e.GET("/f/:code/settings", p.Settings)
	e.GET("/f/:code/settings/new-surface", p.NewSurface)
	e.POST("/f/:code/settings/new-surface", p.KeepSurface)
	e.GET("/f/:code/hosts/:record/amend", p.DrawHost)
	for _, a := range addings {
		e.GET("/f/:code/settings/"+a.Path, p.Add)
		e.POST("/f/:code/settings/"+a.Path, p.KeepAdded)
	}
	e.GET("/f/:code/settings/:setting", p.Terms)
	e.POST("/f/:code/settings/:setting", p.KeepTerms)
	e.GET("/f/:code/documents", p.Documents)
	e.GET("/f/:code/documents/:name", p.Document)
}
