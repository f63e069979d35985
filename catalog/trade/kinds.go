package trade

import (
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
)

// What no kind is.
const (
	strange = catalog.KindCount + iota
	strangeFirst
)

// kindWords name kinds of parts, one or several of them. A phrase stands before
// its words: a "subwoofer box" is a box.
var kindWords = map[catalog.Kind]string{
	strange:      others,
	strangeFirst: beside,
	catalog.KindSubwoofer: `subwoofer,subwoofers,sub,subs,woofer,woofers,bass driver,bass drivers,bass speaker,bass speakers,subwoofer driver,subwoofer drivers,driver,drivers,raw driver,raw drivers,bare sub,
		basslautsprecher,bass lautsprecher,tieftoner,tiefton lautsprecher,subwoofer chassis,basschassis,bass chassis,einbausubwoofer,einbau subwoofer,
		haut parleur de grave,haut parleurs de grave,haut parleur grave,haut parleurs de graves,hp de grave,hp grave,hp de graves,boomer,boomers,caisson de grave nu,sub nu,
		altavoz de graves,altavoces de graves,altavoz de bajos,altavoces de bajos,subgrave,subgraves,altavoz subwoofer,
		altoparlante per bassi,altoparlanti per bassi,altoparlante bassi,sub woofer,sub woofers,
		baswoofer,basluidspreker,basluidsprekers,basspeaker,basspeakers,lagetonenluidspreker,
		altifalante de graves,altifalantes de graves,alto falante de graves,coluna de graves,sub grave,sub graves,
		glosnik basowy,glosniki basowe,glosnik niskotonowy,glosniki niskotonowe,subwoofery,glosnik subwoofera`,
	catalog.KindAmplifier: `amplifier,amplifiers,amp,amps,monoblock,monoblocks,mono amp,power amp,power amps,power amplifier,power amplifiers,
		verstarker,endstufe,endstufen,mono endstufe,monoblok,monobloks,monoendstufe,amplificateur,amplificateurs,ampli,amplis,bloc de puissance,
		amplificador,amplificadores,etapa,etapas,etapa de potencia,etapas de potencia,amplificatore,amplificatori,finale,finali,finale di potenza,
		versterker,versterkers,eindtrap,eindtrappen,eindversterker,modulo amplificador,modulos amplificadores,modulo de potencia,potencia mono,
		wzmacniacz,wzmacniacze,koncowka mocy,koncowki mocy`,
	catalog.KindEnclosure: `box,boxes,enclosure,enclosures,cabinet,cabinets,empty box,empty boxes,empty enclosure,empty enclosures,subwoofer box,subwoofer boxes,sub box,sub boxes,subwoofer enclosure,subwoofer enclosures,
		sub enclosure,speaker box,speaker boxes,bass box empty,gehause,leergehause,leergehause subwoofer,subwoofergehause,bassgehause,basskiste leer,leerkiste,
		caisse,caisses,caisse vide,caisses vides,caisson vide,caissons vides,caisse de grave vide,ebenisterie,coffret,coffrets,
		cajon,cajones,caja,cajas,caja vacia,cajas vacias,cajon vacio,cajones vacios,recinto,caja acustica vacia,
		cassa,casse,cassa vuota,casse vuote,box vuoto,box vuoti,cassa acustica vuota,contenitore,
		kist,kisten,subkist,subkisten,behuizing,behuizingen,lege kist,lege kisten,lege behuizing,
		caixa,caixas,caixa vazia,caixas vazias,caixa acustica vazia,skrzynia,skrzynie,skrzynka,obudowa,obudowy,pusta skrzynia,skrzynia pusta`,
	catalog.KindLoaded: `loaded enclosure,loaded enclosures,loaded box,loaded boxes,loaded subwoofer box,loaded sub box,loaded subwoofer enclosure,loaded subwoofer,loaded sub,bass tube,bass tubes,
		bestucktes gehause,bestucktes subwoofergehause,gehausesubwoofer,gehause subwoofer,subwoofer im gehause,bassbox,basskiste,bassrolle,
		caisson charge,caissons charges,caisse chargee,caisson equipe,caisson de grave,caissons de grave,caisse de grave,subwoofer en caisson,
		cajon cargado,cajones cargados,cajon con subwoofer,caja con subwoofer,subwoofer en caja,subwoofer en cajon,
		box caricato,cassa caricata,subwoofer in cassa,subwoofer in box,box amplificato passivo,gevulde kist,subwooferkist,baskist,subwoofer in kist,subwoofer in behuizing,
		caixa carregada,caixa com subwoofer,subwoofer em caixa,skrzynia basowa,skrzynie basowe,skrzynia z glosnikiem,subwoofer w obudowie,subwoofer w skrzyni`,
	catalog.KindFront: `front speakers,front speaker,speakers,speaker,coaxial,coaxials,coax,coaxial speakers,component set,component sets,component speakers,components,door speakers,rear deck speakers,pair of speakers,speaker pair,speaker set,
		lautsprecher,frontlautsprecher,front lautsprecher,frontsystem,koaxiallautsprecher,koaxial lautsprecher,koax,koaxe,kompo,kompos,kompolautsprecher,komponentensystem,turlautsprecher,lautsprecher vorn,lautsprecher vorne,2 wege system,
		haut parleur,haut parleurs,hp,haut parleur avant,haut parleurs avant,hp avant,enceintes avant,kit eclate,kits eclates,kit 2 voies,coaxial avant,coaxiaux,haut parleurs coaxiaux,haut parleurs de portiere,
		altavoz,altavoces,altavoces delanteros,altavoz delantero,altavoces coaxiales,coaxiales,kit de vias separadas,vias separadas,via separada,kit de 2 vias,
		altoparlante,altoparlanti,altoparlanti anteriori,altoparlanti coassiali,casse anteriori,coassiale,coassiali,kit 2 vie,kit due vie,kit componenti,
		luidspreker,luidsprekers,voorluidsprekers,frontluidsprekers,speakers voor,coaxiale luidsprekers,deurluidsprekers,composet,composets,componentenset,
		altifalante,altifalantes,altifalantes dianteiros,altifalantes da frente,alto falante,alto falantes,alto falantes dianteiros,colunas,colunas dianteiras,kit duas vias,kit de duas vias,coaxiais,
		glosnik,glosniki,glosniki przednie,glosniki przod,glosniki koncentryczne,glosniki wspolosiowe,zestaw odseparowany,glosniki odseparowane,glosniki drzwiowe`,
	catalog.KindSource: `head unit,head units,headunit,headunits,radio,radios,car radio,car radios,car stereo,car stereos,receiver,receivers,deck,decks,media receiver,media receivers,in dash receiver,
		autoradio,autoradios,radiogerat,hauptgerat,steuergerat radio,moniceiver,poste,poste radio,poste autoradio,
		unidad principal,unidades principales,radio de coche,radio coche,radios de coche,equipo de radio,autorradio,autorradios,auto radio,auto radios,
		sintolettore,sintolettori,sintomonitor,sorgente,radio voor auto,hoofdunit,
		leitor de carro,radio para carro,radioodtwarzacz,radioodtwarzacze,radia,radio samochodowe,radia samochodowe,jednostka glowna`,
	catalog.KindConverter: `line converter,line converters,line output converter,line output converters,line out converter,line out converters,loc,high low converter,high/low converter,hi lo converter,hi/low converter,hi low converter,high low adapter,hi low adapter,
		high level converter,high to low converter,speaker to rca converter,speaker to rca adapter,level converter,
		high low wandler,high/low wandler,high/low adapter,pegelwandler,adapter high low,high low konverter,high level adapter,lautsprecher cinch adapter,cinch adapter,
		convertisseur haut bas,convertisseur haut niveau,convertisseur high low,convertisseur de ligne,convertisseur rca,adaptateur high low,adaptateur haut niveau,adaptateur haut bas niveau,convertisseur hp rca,convertisseur,
		convertidor de linea,convertidor rca,convertidor alto bajo,convertidor de alta a baja,convertidor alta baja,convertidor de nivel,convertidor,adaptador alta baja,adaptador de alta a baja,
		convertitore di linea,convertitore rca,convertitore high low,convertitore alto basso,convertitore di livello,convertitore,adattatore high low,
		high low omvormer,high/low omvormer,lijnomvormer,hoog laag omvormer,hi low omvormer,speaker naar rca,omvormer high low,
		conversor de linha,conversor rca,conversor alta baixa,conversor de nivel,conversor de alta para baixa,conversor,
		konwerter rca,konwerter high low,konwerter hi low,konwerter liniowy,konwerter sygnalu,konwerter,przetwornik liniowy,adapter hi low`,
	catalog.KindBlocker: `bass blocker,bass blockers,bassblocker,bassblocker paar,bass sperre,basssperre,bloqueur de basses,bloqueurs de basses,filtre passe haut condensateur,bloqueador de graves,bloqueadores de graves,bloqueador de bajos,bloqueadores de bajos,
		blocca bassi,blocco bassi,bassblokker,bassblokkers,basblokker,basblokkers,bloqueador de baixos,bloqueadores de baixos,filtr basu,blokada basu,blokady basu`,
	catalog.KindKit: `wiring kit,wiring kits,wire kit,wire kits,amp kit,amp kits,amplifier kit,amplifier kits,amp wiring kit,amp wiring kits,amplifier wiring kit,amplifier wiring kits,cable kit,cable kits,cable set,cable sets,power cable kit,power kit,installation kit,installation kits,install kit,wiring,
		kabelset,kabelsets,kabel set,kabelkit,kabelkits,kabel kit,kabelsatz,anschlussset,anschlussatz,anschluss set,einbauset,einbau set,anschlusskabelset,verstarker kabelset,verstarker anschlussset,
		kit de cables,kit de cablage,kit cable,kit cables,kit d alimentation,kit alimentation,kit de montage ampli,kit d installation,cablage,jeu de cables,
		kit de cables de alimentacion,kit de cableado,kit cableado,kit de instalacion,juego de cables,cableado,
		kit cavi,kit cavo,kit cablaggio,kit di cablaggio,kit di alimentazione,set cavi,cablaggio,cavi,
		aansluitset,aansluitsets,bekabelingsset,kabelpakket,bekabeling,inbouwset,
		kit de cabos,kit cabos,kit de instalacao,kit instalacao,conjunto de cabos,cablagem,
		zestaw kabli,zestaw przewodow,zestaw montazowy,zestawy kabli,zestawy przewodow,zestaw kablowy,komplet kabli,komplet przewodow,okablowanie`,
	catalog.KindSheet: `sheet material,sheet materials,mdf,mdf board,mdf sheet,plywood,mdf platte,mdf platten,holzplatte,holzplatten,sperrholz,multiplex,multiplexplatte,panneau mdf,panneaux mdf,contreplaque,tablero mdf,tableros mdf,contrachapado,pannello mdf,compensato,
		mdf plaat,mdf platen,multiplexplaat,triplex,placa mdf,placa de mdf,contraplacado,plyta mdf,plyty mdf,sklejka`,
}

// others are things of this trade that are no kind of part here, though a part's
// word may stand in their names.
const others = `capacitor,capacitors,power capacitor,power cap,stiffening capacitor,kondensator,kondensatoren,powercap,pufferelko,condensateur,condensateurs,condensador,condensadores,condensatore,condensatori,condensator,condensatoren,kondensatory,
	battery,batteries,batterie,batterien,bateria,baterias,batteria,accu,accus,akumulator,akumulatory,
	speaker cable,speaker cables,speaker wire,rca cable,rca cables,rca,power cable,power wire,lautsprecherkabel,cinchkabel,cinch kabel,stromkabel,cable rca,cables rca,cable hp,cable haut parleur,cable de haut parleur,cable altavoz,cable de altavoz,cavo rca,cavi rca,cavo altoparlante,cavi altoparlanti,
	luidsprekerkabel,rca kabel,tulpkabel,cabo rca,cabos rca,cabo de altifalante,kabel rca,kabel glosnikowy,kable rca,
	speaker adapter,speaker adapters,speaker rings,adapterringe,lautsprecherringe,lautsprecherblende,lautsprechergitter,grille,grilles,speaker grille,speaker grill,subwoofer grille,subwoofer grill,sub grille,sub grill,
	radio bezel,radioblende,radio fascia,facade autoradio,facade,marco de radio,mascherina,mascherina autoradio,inbouwframe,radio frame,moldura,ramka radiowa,ramka,
	steering wheel adapter,antenna,antenne,antena,antennas,antenna adapter,sound deadening,dammung,isolant,aislante`

// beside are things that a part may have, and that are no part where they stand
// first: a tweeter, but not a component set's.
const beside = `tweeter,tweeters,hochtoner,tweeter pair,remote,bass remote,bass knob,fernbedienung,bassfernbedienung,telecommande,mando,telecomando,afstandsbediening,pilot`

// compounds end German and Dutch words that are made up as they are needed, such
// as a four-channel amplifier in one word; the longer endings first.
var compounds = []struct {
	ending string
	kind   catalog.Kind
}{
	{"basslautsprecher", catalog.KindSubwoofer}, {"basluidspreker", catalog.KindSubwoofer}, {"tieftoner", catalog.KindSubwoofer}, {"gehausesubwoofer", catalog.KindLoaded},
	{"verstarker", catalog.KindAmplifier}, {"endstufe", catalog.KindAmplifier}, {"versterker", catalog.KindAmplifier}, {"eindtrap", catalog.KindAmplifier},
	{"gehause", catalog.KindEnclosure}, {"behuizing", catalog.KindEnclosure}, {"subwooferkist", catalog.KindLoaded}, {"kabelset", catalog.KindKit}, {"kabelsatz", catalog.KindKit}, {"anschlussset", catalog.KindKit}, {"aansluitset", catalog.KindKit},
	{"lautsprecher", catalog.KindFront}, {"luidspreker", catalog.KindFront}, {"subwoofer", catalog.KindSubwoofer},
}

// plurals end such words in the plural.
var plurals = []string{"", "s", "n", "en", "sen", "pen"}

// until are words before what a thing is for: "box for a subwoofer".
var until = []string{"for", "fur", "pour", "para", "per", "voor", "do", "dla", "na", "pod", "with", "mit", "avec", "con", "met", "com", "z", "w", "incl", "inkl", "+"}

// plainly are words after which another kind's word does not count: a cable for
// an amplifier is no amplifier.
var plainly = []catalog.Kind{catalog.KindKit, catalog.KindConverter, catalog.KindBlocker, catalog.KindLoaded, catalog.KindEnclosure}

var kindPhrases = sync.OnceValue(func() *dictionary[catalog.Kind] { return dictionaryOf(kindWords) })

// Kinds are the kinds of part that a text may mean; none where it says nothing,
// or names what is no part here, as a speaker cable. A heading ("Amplifiers"), a
// name ("Kit de cables 8 AWG") or a cell of a column of kinds may be asked about.
func Kinds(text string) []catalog.Kind {
	out := kindsIn(text)
	if slices.Contains(out, strange) {
		return nil
	}
	for _, kind := range plainly {
		if slices.Contains(out, kind) {
			return []catalog.Kind{kind}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Strange tells whether a text names a thing of the trade that is no part here.
func Strange(text string) bool { return slices.Contains(kindsIn(text), strange) }

// kindsIn are the kinds whose words stand in a text, up to a word before what the
// thing is for; strange is what is no part.
func kindsIn(text string) (out []catalog.Kind) {
	for words := wordsOf(text); len(words) > 0; {
		kind, n := kindPhrases().begin(words, func(catalog.Kind, int) bool { return true })
		switch {
		case n == 0 && len(out) > 0 && slices.Contains(until, words[0]):
			return out
		case n == 0:
			n = 1
			if kind, ok := compound(words[0]); ok {
				out = append(out, kind)
			}
		case kind == strangeFirst && len(out) == 0:
			out = append(out, strange)
		case kind != strangeFirst:
			out = append(out, kind)
		}
		words = words[n:]
	}
	return out
}

// wordsOf are the words of a name.
func wordsOf(text string) []string {
	return strings.FieldsFunc(Fold(text), func(r rune) bool { return strings.ContainsRune(" ,()[]\"", r) })
}

// compound is the kind of a word by its ending.
func compound(word string) (catalog.Kind, bool) {
	for _, c := range compounds {
		for _, plural := range plurals {
			if strings.HasSuffix(word, c.ending+plural) {
				return c.kind, true
			}
		}
	}
	return 0, false
}

// boxTypes are how boxes work.
var boxTypes = map[string]string{
	"sealed":    `sealed,closed,acoustic suspension,geschlossen,geschlossenes,geschlossene,clos,close,ferme,fermee,etanche,sellado,sellada,cerrado,cerrada,chiuso,chiusa,cassa chiusa,sospensione pneumatica,gesloten,selado,selada,fechado,fechada,zamknieta,zamkniety,zamkniete,zamknieta skrzynia`,
	"vented":    `vented,ported,bassreflex,bass reflex,reflex,reflexgehause,bassreflexgehause,ventiliert,event,evente,a event,ventilado,ventilada,abierto con tubo,accordato,accordata,cassa reflex,baspoort,basreflex,gepoort,geventileerd,dutado,dutada,sintonizado,sintonizada,wentylowana,wentylowany,z otworem,bas refleks,basrefleks`,
	"band-pass": `band pass,bandpass,bandpassgehause,passe bande,paso banda,pasa banda,passa banda,passabanda,banddoorlaat,pasmowoprzepustowa,pasmowa,4th order`,
}

var boxPhrases = sync.OnceValue(func() *dictionary[string] { return dictionaryOf(boxTypes) })

// BoxType is how a box works by the words of a text; empty where they do not
// say, or say two things.
func BoxType(text string) string {
	words, list := wordsOf(text), boxPhrases()
	found := ""
	for i := range words {
		for n := min(list.longest, len(words)-i); n > 0; n-- {
			if english := list.of[strings.Join(words[i:i+n], " ")]; english != "" {
				if found != "" && found != english {
					return ""
				}
				found = english
			}
		}
	}
	return found
}
