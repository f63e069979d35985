package trade

import (
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
)

// kindWords name kinds of parts, one or several of them. A phrase stands before
// its words: a "subwoofer box" is a box.
var kindWords = map[catalog.Kind]string{
	catalog.KindSubwoofer: `subwoofer,subwoofers,sub,subs,woofer,woofers,basslautsprecher,tieftoner,subwoofer chassis,basschassis,
		haut parleur de grave,caisson de grave nu,altavoz de graves,subgrave,subgraves,altoparlante per bassi,baswoofer,altifalante de graves,glosnik basowy,glosniki basowe,bass driver,bass drivers`,
	catalog.KindAmplifier: `amplifier,amplifiers,amp,amps,monoblock,monoblocks,mono amp,power amp,verstarker,endstufe,endstufen,monoblok,
		amplificateur,amplificateurs,ampli,amplis,amplificador,amplificadores,etapa,etapas,etapa de potencia,amplificatore,amplificatori,finale,finali,
		versterker,versterkers,eindtrap,wzmacniacz,wzmacniacze`,
	catalog.KindEnclosure: `box,boxes,enclosure,enclosures,cabinet,cabinets,empty box,subwoofer box,subwoofer boxes,sub box,sub boxes,subwoofer enclosure,
		gehause,leergehause,subwoofergehause,bassgehause,caisse,caisses,caisson vide,caissons vides,coffret,cajon,cajones,caja vacia,cajon vacio,
		cassa,casse,cassa vuota,box vuoto,kist,kisten,subkist,behuizing,behuizingen,lege kist,caixa,caixas,caixa vazia,skrzynia,skrzynie,obudowa,obudowy`,
	catalog.KindLoaded: `loaded enclosure,loaded enclosures,loaded box,loaded boxes,loaded subwoofer box,loaded sub box,bestucktes gehause,gehausesubwoofer,subwoofer im gehause,bassbox,
		caisson charge,caissons charges,caisse chargee,cajon cargado,cajon con subwoofer,box caricato,cassa caricata,gevulde kist,subwooferkist,caixa carregada,caixa com subwoofer,skrzynia basowa,skrzynia z glosnikiem`,
	catalog.KindFront: `front speakers,front speaker,speakers,speaker,coaxial,coaxials,coax,component set,component speakers,components,door speakers,rear deck speakers,pair of speakers,
		lautsprecher,frontlautsprecher,frontsystem,koaxiallautsprecher,koax,kompo,komponentensystem,turlautsprecher,
		haut parleur,haut parleurs,hp,kit eclate,coaxiaux,altavoz,altavoces,altavoces delanteros,coaxiales,kit de vias separadas,via separada,
		altoparlante,altoparlanti,coassiali,kit 2 vie,luidspreker,luidsprekers,coaxiale luidsprekers,composet,
		altifalante,altifalantes,alto falante,alto falantes,colunas,kit duas vias,glosnik,glosniki,glosniki przednie,zestaw odseparowany`,
	catalog.KindSource: `head unit,head units,headunit,headunits,radio,radios,car radio,receiver,receivers,deck,media receiver,autoradio,autoradios,
		unidad principal,unidades principales,radio de coche,sintolettore,sintolettori,autorradio,auto radio,radioodtwarzacz,radioodtwarzacze,radia`,
	catalog.KindConverter: `line converter,line converters,line output converter,line output converters,loc,high low converter,high/low converter,hi lo converter,hi low converter,high low adapter,
		high low wandler,high/low wandler,high low adapter,pegelwandler,adapter high low,convertisseur haut bas,convertisseur high low,convertisseur rca,adaptateur high low,convertidor de linea,convertidor rca,convertidor alto bajo,adaptador alta baja,
		convertitore di linea,convertitore rca,convertitore high low,high low omvormer,lijnomvormer,conversor de linha,conversor rca,konwerter rca,konwerter high low,przetwornik liniowy`,
	catalog.KindBlocker: `bass blocker,bass blockers,bassblocker,bassblocker paar,bloqueur de basses,bloqueador de graves,bloqueadores de graves,blocca bassi,bassblokker,bloqueador de baixos,filtr basu`,
	catalog.KindKit: `wiring kit,wiring kits,wire kit,amp kit,amp kits,amplifier kit,amp wiring kit,amplifier wiring kit,cable kit,cable kits,power cable kit,installation kit,wiring,
		kabelset,kabelsets,kabelkit,kabelsatz,anschlussset,einbauset,anschlusskabelset,kit de cables,kit de cablage,kit cable,kit d alimentation,kit alimentation,cablage,kit cables,
		kit de cables de alimentacion,kit de cableado,cableado,kit cavi,kit cavo,kit cablaggio,kit di cablaggio,cavi,aansluitset,bekabelingsset,kit de cabos,kit de instalacao,kit cabos,zestaw kabli,zestaw przewodow,zestaw montazowy`,
	catalog.KindSheet: `sheet material,mdf,plywood,sperrholz,multiplex,contreplaque,contrachapado,compensato,multiplexplaat,contraplacado,sklejka`,
}

// compounds end German and Dutch words that are made up as they are needed, such
// as a four-channel amplifier in one word.
var compounds = []struct {
	ending string
	kind   catalog.Kind
}{
	{"verstarker", catalog.KindAmplifier}, {"endstufe", catalog.KindAmplifier}, {"versterker", catalog.KindAmplifier}, {"eindtrap", catalog.KindAmplifier},
	{"gehause", catalog.KindEnclosure}, {"kabelset", catalog.KindKit}, {"kabelsatz", catalog.KindKit}, {"lautsprecher", catalog.KindFront},
	{"luidspreker", catalog.KindFront}, {"subwoofer", catalog.KindSubwoofer},
}

// until are words before what a thing is for: "box for a subwoofer".
var until = []string{"for", "fur", "pour", "para", "per", "voor", "do", "dla", "na", "with", "mit", "avec", "con", "met", "com", "z", "+"}

// plainly are words after which another kind's word does not count: a cable for
// an amplifier is no amplifier.
var plainly = []catalog.Kind{catalog.KindKit, catalog.KindConverter, catalog.KindBlocker, catalog.KindLoaded, catalog.KindEnclosure}

var kindPhrases = sync.OnceValues(func() (map[string]catalog.Kind, int) {
	out, longest := map[string]catalog.Kind{}, 0
	for kind, list := range kindWords {
		for phrase := range strings.SplitSeq(list, ",") {
			key := Fold(phrase)
			out[key] = kind
			longest = max(longest, len(strings.Fields(key)))
		}
	}
	return out, longest
})

// Kinds are the kinds of part that a text may mean; none where it says nothing.
// A heading ("Amplifiers"), a name ("Kit de cables 8 AWG") or a cell of a column
// of kinds may be asked about.
func Kinds(text string) []catalog.Kind {
	list, longest := kindPhrases()
	var out []catalog.Kind
	words := strings.FieldsFunc(Fold(text), func(r rune) bool { return strings.ContainsRune(" ,()[]\"", r) })
	for i := 0; i < len(words); {
		n := min(longest, len(words)-i)
		for ; n > 0; n-- {
			if kind, ok := list[strings.Join(words[i:i+n], " ")]; ok {
				out = append(out, kind)
				break
			}
		}
		if n == 0 {
			if len(out) > 0 && slices.Contains(until, words[i]) {
				break
			}
			for _, c := range compounds {
				if strings.HasSuffix(words[i], c.ending) {
					out = append(out, c.kind)
					break
				}
			}
			n = 1
		}
		i += n
	}
	for _, kind := range plainly {
		if slices.Contains(out, kind) {
			return []catalog.Kind{kind}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// boxTypes are how boxes work.
var boxTypes = map[string]string{
	"sealed":    `sealed,closed,geschlossen,geschlossenes,clos,close,ferme,etanche,sellado,sellada,cerrado,cerrada,chiuso,chiusa,cassa chiusa,gesloten,selado,selada,fechado,fechada,zamknieta,zamkniety,zamkniete`,
	"vented":    `vented,ported,bassreflex,bass reflex,reflex,reflexgehause,event,evente,ventilado,ventilada,accordato,accordata,baspoort,basreflex,dutado,dutada,sintonizado,sintonizada,wentylowana,z otworem`,
	"band-pass": `band pass,bandpass,bandpassgehause,passe bande,paso banda,passa banda,passabanda,banddoorlaat,pasmowoprzepustowa,4th order`,
}

var boxPhrases = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for english, list := range boxTypes {
		for phrase := range strings.SplitSeq(list, ",") {
			out[Fold(phrase)] = english
		}
	}
	return out
})

// BoxType is how a box works by the words of a text; empty where they do not
// say, or say two things.
func BoxType(text string) string {
	words := strings.FieldsFunc(Fold(text), func(r rune) bool { return strings.ContainsRune(" ,()[]\"", r) })
	found := ""
	for i := range words {
		for n := min(3, len(words)-i); n > 0; n-- {
			if english := boxPhrases()[strings.Join(words[i:i+n], " ")]; english != "" {
				if found != "" && found != english {
					return ""
				}
				found = english
			}
		}
	}
	return found
}
